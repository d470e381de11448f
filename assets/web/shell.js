// Fetches the bay, shows how far it is, starts it, and says in plain words what is
// wrong where it can't start or has ended.
"use strict";

(() => {
  const source = document.currentScript.dataset;
  const byId = (id) => document.getElementById(id);
  const gate = byId("gate");

  function refuse(title, why, detail, again) {
    byId("loading").hidden = true;
    byId("refusal-title").textContent = title;
    byId("refusal-why").textContent = why;
    byId("refusal-detail").textContent = detail || "";
    byId("again").hidden = !again;
    byId("refusal").hidden = false;
    gate.hidden = false;
  }

  byId("again").addEventListener("click", () => location.reload());

  // What this browser lacks to run the bay, in words, or null.
  function lacking() {
    if (typeof WebAssembly !== "object" || typeof WebAssembly.instantiateStreaming !== "function") {
      return "It has no WebAssembly, or it is switched off.";
    }
    const gl = document.createElement("canvas").getContext("webgl2");
    if (!gl) {
      return "It has no WebGL 2, or it is switched off. Some browsers switch it off when the graphics driver is old.";
    }
    const release = gl.getExtension("WEBGL_lose_context");
    if (release) {
      release.loseContext(); // contexts are few, and the engine needs one
    }
    return null;
  }

  const megabytes = (n) => (n / 1e6).toFixed(1);

  function phase(words, figures) {
    byId("loading-what").textContent = words;
    byId("loading-bytes").textContent = figures;
  }

  // Lets the browser paint what the page says before it is kept busy. A page in the
  // background paints nothing and is not waited for.
  const painted = () => new Promise((done) => {
    setTimeout(done, 100);
    requestAnimationFrame(() => setTimeout(done, 0));
  });

  // How far the download is when so many bytes have been unpacked. A page sees only
  // unpacked bytes; the server says how many there are at each hundredth of the
  // bytes that it sends in this form.
  function packed(form, got) {
    let i = 0;
    while (i < form.at.length && form.at[i] <= got) {
      i++;
    }
    if (i === form.at.length) {
      return form.bytes;
    }
    const from = i > 0 ? form.at[i - 1] : 0;
    return form.bytes * (i + (got - from) / (form.at[i] - from)) / form.at.length;
  }

  // The response with its bytes counted on their way to the compiler.
  function counted(response, total) {
    const bar = byId("bar");
    const form = JSON.parse(source.wasmForms)[response.headers.get("Content-Encoding")];
    const reader = response.body.getReader();
    let got = 0;
    const body = new ReadableStream({
      async pull(controller) {
        const { done, value } = await reader.read();
        if (done) {
          bar.value = bar.max;
          phase("Compiling the bay", "All is here. The browser makes machine code of it, which takes a few seconds.");
          controller.close();
          return;
        }
        got += value.byteLength;
        // Another form, made by what stands between: then all that is known is what was unpacked.
        const [here, all, what] = form ? [packed(form, got), form.bytes, "MB"] : [got, total, "MB unpacked"];
        bar.value = here / all;
        byId("loading-bytes").textContent = `${Math.floor(100 * here / all)} %, ${megabytes(here)} of ${megabytes(all)} ${what}`;
        controller.enqueue(value);
      },
      cancel(reason) {
        return reader.cancel(reason);
      },
    });
    return new Response(body, { headers: { "Content-Type": "application/wasm" } });
  }

  // Takes the panel away once the bay has written its first controls.
  function watchMirror() {
    const mirror = byId("mirror");
    const watcher = new MutationObserver(() => {
      if (!mirror.hasChildNodes()) {
        return;
      }
      watcher.disconnect();
      gate.hidden = true;
      mirror.setAttribute("role", "main");
      const canvas = document.querySelector("canvas");
      if (canvas) {
        canvas.tabIndex = 0;
        mirror.before(canvas); // so that it comes before its copy in words, also by the Tab key
        canvas.focus();
      }
      keep();
      performance.mark("bay-up");
    });
    watcher.observe(mirror, { childList: true });
  }

  // Lets the browser keep the bay, so that it opens without the server the next time.
  // Browsers do so on this machine and over HTTPS; elsewhere the bay needs its server.
  function keep() {
    if ("serviceWorker" in navigator) {
      navigator.serviceWorker.register("/worker.js").catch((err) => console.warn("the bay is not kept for use without its server:", String(err)));
    }
  }

  async function start() {
    const lack = lacking();
    if (lack !== null) {
      refuse("This browser can't run the bay", lack, "A current Chrome, Edge, Firefox or Safari can. The bay also exists as a program with a window of its own.", false);
      return;
    }
    byId("loading").hidden = false;

    const go = new Go();
    let code = 0;
    go.exit = (c) => { code = c; };

    let instance;
    try {
      const response = await fetch(source.wasm);
      if (!response.ok) {
        throw new Error(`the server answered ${response.status}`);
      }
      const result = await WebAssembly.instantiateStreaming(counted(response, Number(source.wasmBytes)), go.importObject);
      instance = result.instance;
    } catch (err) {
      refuse("The bay could not be fetched", "Is the program that serves it still running?", String(err), true);
      return;
    }

    watchMirror();
    phase("Starting the bay", "Compiled. It opens in a moment.");
    await painted();
    try {
      await go.run(instance);
    } catch (err) {
      refuse("The bay has stopped", "Something went wrong inside it. What you had done so far is kept.", String(err), true);
      return;
    }
    if (code === 0) {
      refuse("The bay is closed", "What you had done is kept.", "", true);
    } else {
      refuse("The bay has stopped", "Something went wrong inside it. What you had done so far is kept.", `It ended with code ${code}; the browser's console has the details.`, true);
    }
  }

  start();
})();
