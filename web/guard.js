// Stands between the page and the program: keeps links that are not the
// program's away from it, and says so when the program has stopped.
"use strict";

const bench = {
  // banner shows one line with one button above the page's foot. A banner of the
  // same name is replaced.
  banner(name, role, text, label, act) {
    document.getElementById(name)?.remove();
    const box = document.createElement("div");
    box.id = name;
    box.className = "banner";
    box.setAttribute("role", role);
    const line = document.createElement("p");
    line.className = "banner__text";
    line.textContent = text;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "banner__button";
    button.textContent = label;
    button.addEventListener("click", act);
    box.append(line, button);
    document.body.append(box);
  },

  stopped() {
    document.documentElement.dataset.ready = "stopped";
    bench.banner("crash", "alert",
      "The tool has stopped working on this page. What was saved is kept.",
      "Reload", () => location.reload());
  },
};

// The program takes every click on a link for a change of screen. It must not
// see the others: it would end itself on a telephone number, and open this tab
// where a new one was asked for. They are stopped on their way down, so that
// the browser does with them what it always does.
{
  const base = document.currentScript.dataset.base;

  const isScreen = (event, link) =>
    link.origin === location.origin &&
    link.pathname.startsWith(base) &&
    !link.hasAttribute("download") &&
    (link.target === "" || link.target === "_self") &&
    event.button === 0 &&
    !(event.shiftKey || event.ctrlKey || event.metaKey || event.altKey);

  // A link to a place on the same screen leaves the state in the address alone.
  const isPlace = (link) =>
    link.hash !== "" && link.pathname === location.pathname && link.search === "" && location.search !== "";

  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("a[href]");
    if (!link) return;
    if (!isScreen(event, link)) {
      event.stopPropagation();
    } else if (isPlace(link) && document.documentElement.dataset.ready === "yes") {
      event.preventDefault();
      event.stopPropagation();
      goappNav(location.origin + location.pathname + location.search + link.hash);
    }
  }, true);
}

// A program that has ended leaves a page that looks alive and does nothing.
{
  const run = Go.prototype.run;
  Go.prototype.run = function (instance) {
    const exit = this.exit;
    this.exit = (code) => {
      exit.call(this, code);
      bench.stopped();
    };
    return run.call(this, instance);
  };
  addEventListener("error", (event) => {
    if (event.error instanceof WebAssembly.RuntimeError) bench.stopped();
  });
}
