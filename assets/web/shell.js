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

  // The response with its bytes counted on their way to the compiler. They are
  // counted as unpacked, and total is the unpacked size.
  function counted(response, total) {
    const bar = byId("bar");
    const figures = byId("loading-bytes");
    const reader = response.body.getReader();
    let got = 0;
    const body = new ReadableStream({
      async pull(controller) {
        const { done, value } = await reader.read();
        if (done) {
          byId("loading-what").textContent = "Starting the bay";
          controller.close();
          return;
        }
        got += value.byteLength;
        bar.value = got;
        figures.textContent = `${megabytes(got)} of ${megabytes(total)} MB unpacked`;
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
