// Keeps the whole tool of one version in the browser and answers from it, with
// or without a network.
//
// A version comes in one file: the program, and a pack of everything else. Both
// are checked against their hash before anything of them is used, so that a
// half-finished upload or a cache on the way never gives a mixture. A new version
// waits until the user asks for it.
"use strict";

const BUILD = "{{build}}"; // put in when the site is built
const SCOPE = new URL(self.registration.scope);
const FAMILY = `proving-bench ${SCOPE.pathname} `; // other tools on this host keep theirs
const CACHE = FAMILY + BUILD.version;
const SINCE = "Since"; // a header that says when this version came to be kept
const KEPT = "Kept"; // a header by which the page tells our answers from the host's

const at = (path) => new URL(path, SCOPE).href;

async function hashOf(bytes) {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(hash, (b) => b.toString(16).padStart(2, "0")).join("");
}

// unpacked gives the content of an answer. Hosts that unpack on the way are told
// by the first two bytes.
async function unpacked(answer) {
  if (!answer.ok) throw new Error(`${answer.url}: the host answered ${answer.status}`);
  const bytes = await answer.arrayBuffer();
  const head = new Uint8Array(bytes, 0, Math.min(2, bytes.byteLength));
  if (head[0] !== 0x1f || head[1] !== 0x8b) return bytes;
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).arrayBuffer();
}

// taken gives the program and the pack that are in an answer, if they are those
// of this version.
async function taken(answer) {
  const parts = [[], [], [], []];
  const tool = unsqueezer((kind, bytes) => parts[kind].push(bytes));
  tool.take(new Uint8Array(await unpacked(answer)));
  tool.end();
  const program = joined(parts[PLAIN]);
  const short = joined(parts[SHORT_PAGES]);
  const pack = short.length > 0 ? lengthened(short, program) : joined(parts[PAGES]);
  if (await hashOf(program) !== BUILD.program || await hashOf(pack) !== BUILD.pack) {
    throw new Error(`${answer.url}: not the file of this version`);
  }
  return { program, pack };
}

// tool takes what the browser kept when the page fetched it, if that is it. Else
// it is fetched in the smallest form that the host has: with brotli where it sends
// that, or the copy that we have packed with gzip.
async function tool() {
  for (const path of [BUILD.plain, BUILD.packed]) {
    try {
      const wanted = at(path + BUILD.mark);
      return await taken(await fetch(wanted, { cache: "only-if-cached", mode: "same-origin" }));
    } catch {
      // Then the other, or the network.
    }
  }
  const mark = "?v=" + BUILD.version;
  const head = await fetch(at(BUILD.plain + mark), { method: "HEAD", cache: "no-store" });
  const brotli = head.ok && head.headers.get("Content-Encoding") === "br";
  return taken(await fetch(at((brotli ? BUILD.plain : BUILD.packed) + mark), { cache: "no-store" }));
}

// lengthened undoes what the build has done to the pack: pieces that stand in the
// program, or earlier in the pack, are copied from there.
function lengthened(bytes, source) {
  const head = new DataView(bytes.buffer, bytes.byteOffset);
  const out = new Uint8Array(head.getUint32(0, true));
  const steps = bytes.subarray(8, 8 + head.getUint32(4, true));
  const rest = bytes.subarray(8 + steps.length);
  let step = 0, read = 0, written = 0, from = 0;
  const number = () => {
    let n = 0;
    for (let unit = 1; ; unit *= 128) {
      const b = steps[step++];
      n += (b & 127) * unit;
      if (!(b >= 128)) return n; // also past the end
    }
  };
  for (;;) {
    const plain = number();
    out.set(rest.subarray(read, read + plain), written);
    read += plain;
    written += plain;
    if (step >= steps.length) return out;

    const length = number();
    const distance = number();
    from += distance % 2 ? -(distance + 1) / 2 : distance / 2;
    const all = from < source.length ? source : out;
    const begin = from < source.length ? from : from - source.length;
    out.set(all.subarray(begin, begin + length), written);
    written += length;
    from += length;
  }
}

// fill puts the whole version into its cache, or nothing.
async function fill() {
  try {
    const { program, pack } = await tool();
    const cache = await caches.open(CACHE);
    const since = new Date().toISOString();
    const put = (path, type, body) =>
      cache.put(at(path), new Response(body, { headers: { "Content-Type": type, [KEPT]: BUILD.version, [SINCE]: since } }));

    const size = new DataView(pack.buffer, pack.byteOffset).getUint32(0, true);
    const index = JSON.parse(new TextDecoder().decode(pack.subarray(4, 4 + size)));
    let offset = 4 + size;
    const puts = [];
    for (const [path, type, length] of index) {
      puts.push(put(path, type, pack.slice(offset, offset + length)));
      offset += length;
    }
    await Promise.all(puts);
    await put(BUILD.kept, "application/wasm", program);
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
  if (!await cache.match(at(BUILD.kept))) await fill().catch(() => {});
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
