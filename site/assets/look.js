// What must be there before anything else: the look of the page, and the promise of the core.
try {
  document.documentElement.dataset.look = localStorage.getItem('ohmwright/look') || 'auto';
} catch {
  document.documentElement.dataset.look = 'auto'; // storage is forbidden here: the page says so
}

// The global promise "ohmwright" is here before any script waits for it, in whatever order the others arrive.
globalThis.ohmwright = new Promise((resolve, reject) => {
  globalThis.ohmwrightReady = resolve;
  globalThis.ohmwrightFailed = reject;
});
globalThis.ohmwright.catch(() => {}); // app.js says so
