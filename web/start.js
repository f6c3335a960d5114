// Starts the program, and when it runs, sees to it that the tool works without a
// network and is brought up to date when the user wants it.
//
// Whatever fails here leaves the prepared page, which can be read.
"use strict";

// The program puts its own functions into these.
var goappNav = () => {};
var goappOnUpdate = () => {};
var goappOnAppInstallChange = () => {};

const start = { ...document.currentScript.dataset };

// What the program asks the page for.
const environment = {
  GOAPP_ROOT_PREFIX: start.base.replace(/\/$/, ""),
  GOAPP_STATIC_RESOURCES_URL: start.base.replace(/\/$/, ""),
  GOAPP_INTERNAL_URLS: "[]",
  GOAPP_VERSION: start.version,
};
const goappGetenv = (name) => environment[name];
const goappKeepBodyClean = () => () => {};

// Installing on the home screen: the browser offers it once, and the offer is
// kept until the user asks for it.
let offer = null;
addEventListener("beforeinstallprompt", (event) => {
  event.preventDefault();
  offer = event;
  goappOnAppInstallChange();
});
addEventListener("appinstalled", () => {
  offer = null;
  goappOnAppInstallChange();
});
const goappIsAppInstalled = () =>
  matchMedia("(display-mode: standalone)").matches || navigator.standalone === true;
const goappIsAppInstallable = () => offer !== null && !goappIsAppInstalled();
const goappShowInstallPrompt = async () => {
  const made = offer;
  offer = null;
  await made?.prompt();
  goappOnAppInstallChange();
};
Object.assign(globalThis, {
  goappGetenv, goappKeepBodyClean, goappIsAppInstalled, goappIsAppInstallable, goappShowInstallPrompt,
});

function status(text) {
  let line = document.getElementById("status");
  if (!line) {
    line = document.createElement("p");
    line.id = "status";
    line.className = "status";
    line.setAttribute("role", "status");
    document.body.append(line);
  }
  line.textContent = text;
}

// arrived settles when the whole file has come in, of which the program is the
// first part: the rest is for the worker.
let arrived = Promise.resolve();

// program gives the program, from the worker if that has it.
async function program() {
  if (navigator.serviceWorker?.controller) {
    const kept = await fetch(start.base + start.kept);
    if (kept.ok && kept.headers.has("Kept")) return kept;
  }
  const body = (await fetched()).getReader();
  return new Response(new ReadableStream({
    start(out) {
      let whole = false;
      const tool = unsqueezer((kind, bytes) => {
        if (kind === PLAIN) out.enqueue(bytes);
        else finish();
      });
      const finish = () => {
        if (!whole) out.close();
        whole = true;
      };
      arrived = (async () => {
        for (;;) {
          const { done, value } = await body.read();
          if (done) break;
          tool.take(value);
        }
        tool.end();
        finish();
      })();
      // The program may be whole and still waiting to be read when the rest fails.
      arrived.catch((reason) => {
        if (!whole) out.error(reason);
      });
    },
  }), { headers: { "Content-Type": "application/wasm" } });
}

// fetched gives the file's content, as the host compresses it. Most hosts
// compress; from one that does not, the copy that we have packed with gzip is
// fetched instead and unpacked while it comes in. A host may have unpacked it
// already: the first two bytes tell. Browsers that cannot unpack take the plain
// file.
async function fetched() {
  const stop = new AbortController();
  const plain = await fetch(start.base + start.plain, { signal: stop.signal });
  if (plain.ok && plain.headers.has("Content-Encoding") || typeof DecompressionStream === "undefined") {
    if (!plain.ok) throw new Error(`the host answered ${plain.status}`);
    return plain.body;
  }
  stop.abort();

  const answer = await fetch(start.base + start.program);
  if (!answer.ok) throw new Error(`the host answered ${answer.status}`);

  const reader = answer.body.getReader();
  let head = new Uint8Array(0);
  while (head.length < 2) {
    const { done, value } = await reader.read();
    if (done) break;
    head = joined([head, value]);
  }
  const body = new ReadableStream({
    start: (out) => out.enqueue(head),
    async pull(out) {
      const { done, value } = await reader.read();
      if (done) out.close();
      else out.enqueue(value);
    },
    cancel: (reason) => reader.cancel(reason),
  });
  const packed = head[0] === 0x1f && head[1] === 0x8b;
  return packed ? body.pipeThrough(new DecompressionStream("gzip")) : body;
}

async function run() {
  status("Getting the tool ready. The page can be read meanwhile.");
  try {
    const go = new Go();
    const { instance } = await WebAssembly.instantiateStreaming(program(), go.importObject);
    go.run(instance);
  } catch (reason) {
    console.error("starting the program failed:", reason);
    document.documentElement.dataset.ready = "static";
    status("This page can only be read: the tool itself could not be loaded. Reload to try again.");
  }
}

// Offline. The worker is registered after the file has come in, because it takes
// what is in it from what the browser has kept of that.
async function keep() {
  if (!("serviceWorker" in navigator) || typeof DecompressionStream === "undefined") return;
  await arrived.catch(() => {});
  const workers = navigator.serviceWorker;
  const updating = workers.controller !== null;
  let tapped = false;

  const offerUpdate = (worker) => bench.banner("update", "status",
    "A new version is ready.", "Use it now", () => {
      tapped = true;
      worker.postMessage("activate-update");
    });

  workers.addEventListener("controllerchange", () => {
    if (tapped) location.reload();
    else if (updating) bench.banner("update", "status",
      "The new version is in use in another tab.", "Reload this one", () => location.reload());
  });

  try {
    const registration = await workers.register(start.base + "worker.js", {
      scope: start.base,
      updateViaCache: "none",
    });
    if (registration.waiting && workers.controller) offerUpdate(registration.waiting);
    registration.addEventListener("updatefound", () => {
      const worker = registration.installing;
      worker.addEventListener("statechange", () => {
        if (worker.state === "installed" && registration.active) offerUpdate(worker);
      });
    });

    let asked = Date.now();
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState !== "visible" || Date.now() - asked < 3600e3) return;
      asked = Date.now();
      registration.update().catch(() => {});
    });

    await workers.ready;
    const page = await caches.match(start.base);
    document.documentElement.dataset.since = page?.headers.get("Since") ?? "";
    document.documentElement.dataset.offline = "ready";
    document.dispatchEvent(new Event("offline-ready"));
    registration.active.postMessage("mend");
  } catch (reason) {
    console.warn("keeping the tool for use without a network failed:", reason);
  }
}

if (new URLSearchParams(location.search).get("wasm") === "false") {
  document.documentElement.dataset.ready = "static";
} else {
  run().then(keep);
}
