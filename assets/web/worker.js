// Keeps the bay for use without the server: once it has been loaded, it opens again
// from what is kept here. Files are named by their content, so what is kept is never
// out of date; only the page itself is asked for first.
"use strict";

const kept = "coldbay-{{.Version}}";
const files = {{.Files}};
// How long the page waits for a server that does not answer, in milliseconds.
const patience = 4000;

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(kept);
    await cache.addAll(["/", ...files]);
    await self.skipWaiting();
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("coldbay-") && name !== kept) {
        await caches.delete(name);
      }
    }
    await self.clients.claim();
  })());
});

// The page: of the server when it answers, otherwise as it was kept.
async function page(request) {
  const cache = await caches.open(kept);
  const impatient = new AbortController();
  const timer = setTimeout(() => impatient.abort(), patience);
  try {
    const answer = await fetch(request.url, { signal: impatient.signal, cache: "no-cache", credentials: "same-origin" });
    if (answer.ok) {
      return answer;
    }
  } catch (err) {
    // No server: what was kept is all there is.
  } finally {
    clearTimeout(timer);
  }
  return (await cache.match("/")) || Response.error();
}

async function file(request) {
  const cache = await caches.open(kept);
  return (await cache.match(request.url)) || fetch(request);
}

self.addEventListener("fetch", (event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || url.origin !== self.location.origin) {
    return;
  }
  if (event.request.mode === "navigate" && url.pathname === "/") {
    event.respondWith(page(event.request));
  } else if (files.includes(url.pathname)) {
    event.respondWith(file(event.request));
  }
});
