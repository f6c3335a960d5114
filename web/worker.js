// Keeps the whole tool of one version in the browser and answers from it, with
// or without a network.
//
// A version comes in two files: the program, and a pack of everything else. Both
// are checked against their hash before anything of them is used, so that a
// half-finished upload or a cache on the way never gives a mixture. A new version
// waits until the user asks for it.
"use strict";

const BUILD = "{{build}}"; // put in when the site is built
const SCOPE = new URL(self.registration.scope);
const FAMILY = `proving-bench ${SCOPE.pathname} `; // other tools on this host keep theirs
const CACHE = FAMILY + BUILD.version;

const at = (path) => new URL(path, SCOPE).href;

async function hashOf(bytes) {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(hash, (b) => b.toString(16).padStart(2, "0")).join("");
}

// unpacked fetches a packed file and returns its content. Hosts that unpack on
// the way are told by the first two bytes.
async function unpacked(file, mode) {
  const answer = await fetch(at(file.path), { cache: mode });
  if (!answer.ok) throw new Error(`${file.path}: the host answered ${answer.status}`);
  let bytes = await answer.arrayBuffer();
  const head = new Uint8Array(bytes, 0, Math.min(2, bytes.byteLength));
  if (head[0] === 0x1f && head[1] === 0x8b) {
    const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
    bytes = await new Response(stream).arrayBuffer();
  }
  if (await hashOf(bytes) !== file.hash) throw new Error(`${file.path}: not the file of this version`);
  return bytes;
}

// program takes what the browser kept when the page fetched it, if that is it.
const program = () =>
  unpacked(BUILD.program, "force-cache").catch(() => unpacked(BUILD.program, "no-store"));

// fill puts the whole version into its cache, or nothing.
async function fill() {
  try {
    const [wasm, pack] = await Promise.all([program(), unpacked(BUILD.pack, "no-store")]);
    const cache = await caches.open(CACHE);
    const put = (path, type, body) =>
      cache.put(at(path), new Response(body, { headers: { "Content-Type": type } }));

    const size = new DataView(pack).getUint32(0, true);
    const index = JSON.parse(new TextDecoder().decode(new Uint8Array(pack, 4, size)));
    let offset = 4 + size;
    const puts = [];
    for (const [path, type, length] of index) {
      puts.push(put(path, type, pack.slice(offset, offset + length)));
      offset += length;
    }
    await Promise.all(puts);
    await put(BUILD.program.path.split("?")[0], "application/wasm", wasm);
  } catch (reason) {
    await caches.delete(CACHE);
    throw reason;
  }
}

self.addEventListener("install", (event) => event.waitUntil(fill()));

self.addEventListener("activate", (event) => event.waitUntil((async () => {
  // While a still newer version is coming in, its cache is not to be taken away.
  if (!self.registration.installing && !self.registration.waiting) {
    for (const name of await caches.keys()) {
      if (name.startsWith(FAMILY) && name !== CACHE) await caches.delete(name);
    }
  }
  await self.clients.claim();
})()));

self.addEventListener("message", (event) => {
  if (event.data === "activate-update") self.skipWaiting();
  if (event.data === "mend") event.waitUntil(mend());
});

// mend fills the cache again when the browser has thrown it away to save space.
// The program is put last, so that its presence stands for all.
async function mend() {
  const cache = await caches.open(CACHE);
  if (!await cache.match(at(BUILD.program.path.split("?")[0]))) await fill().catch(() => {});
}

self.addEventListener("fetch", (event) => {
  const request = event.request;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== SCOPE.origin || !url.pathname.startsWith(SCOPE.pathname)) return;
  event.respondWith(answer(request, url.pathname));
});

// answer looks by path alone: queries are the screens' own business, and
// addresses come with and without a slash or index.html.
async function answer(request, path) {
  const cache = await caches.open(CACHE);
  const wanted = path.replace(/index\.html$/, "");
  const hit = await cache.match(at(wanted)) || await cache.match(at(wanted.replace(/\/?$/, "/")));
  if (hit) return hit;
  if (request.mode !== "navigate") return fetch(request);

  try {
    const found = await fetch(request, { signal: AbortSignal.timeout(5000) });
    if (found.status !== 404) return found;
  } catch {
    // Without a network nothing more can be found out about the address.
  }
  return await cache.match(at("404.html")) || Response.error();
}
