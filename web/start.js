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

// program fetches the program as the host compresses it. Most hosts compress; from
// one that does not, the copy that we have packed with gzip is fetched instead and
// unpacked while it comes in. A host may have unpacked it already: the first two
// bytes tell. Browsers that cannot unpack take the plain file.
async function program() {
  const stop = new AbortController();
  const plain = await fetch(start.base + start.plain, { signal: stop.signal });
  const compressed = plain.headers.has("Content-Encoding") || plain.headers.has("Kept");
  if (plain.ok && compressed || typeof DecompressionStream === "undefined") return asProgram(plain);
  stop.abort();

  const answer = await fetch(start.base + start.program);
  if (!answer.ok) throw new Error(`the host answered ${answer.status}`);

  const reader = answer.body.getReader();
  let head = new Uint8Array(0);
  while (head.length < 2) {
    const { done, value } = await reader.read();
    if (done) break;
    const more = new Uint8Array(head.length + value.length);
    more.set(head);
    more.set(value, head.length);
    head = more;
  }
  let body = new ReadableStream({
    start: (out) => out.enqueue(head),
    async pull(out) {
      const { done, value } = await reader.read();
      if (done) out.close();
      else out.enqueue(value);
    },
    cancel: (reason) => reader.cancel(reason),
  });
  if (head[0] === 0x1f && head[1] === 0x8b) body = body.pipeThrough(new DecompressionStream("gzip"));
  return asProgram(new Response(body));
}

// asProgram gives the answer the type that browsers insist on. One that has it
// goes on as it is: only then does the browser keep what it has compiled.
const asProgram = (answer) =>
  answer.headers.get("Content-Type") === "application/wasm"
    ? answer
    : new Response(answer.body, { headers: { "Content-Type": "application/wasm" } });

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

// Offline. The worker is registered after the program has come in, because it
// takes the program from what the browser has kept of that.
async function keep() {
  if (!("serviceWorker" in navigator) || typeof DecompressionStream === "undefined") return;
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
    document.documentElement.dataset.offline = "ready";
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
