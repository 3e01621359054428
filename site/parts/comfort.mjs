// How a reader wants pages on this phone: light and units. Run before the page is drawn, so that nothing flashes.
//
// Choices are attributes of the page; style does the rest. `choose.mjs` keeps them. Two more tell style that
// scripts run, and that a kept run will be shown, so that what they fill has its room from the first frame.

Object.assign(document.documentElement.dataset, { script: "yes", ...(location.search.includes("run=") && { run: "kept" }) });
try {
  Object.assign(document.documentElement.dataset, JSON.parse(localStorage.getItem("comfort") ?? "{}"));
} catch {
  // Refused or unreadable: the page is as the phone is.
}
