// What has to be there before anything else: the screen's look, and the promise of the core.
try {
  document.documentElement.dataset.look = localStorage.getItem('ohmwright/look') || 'auto';
} catch {
  document.documentElement.dataset.look = 'auto'; // storage is forbidden here: the page says so
}

// The global promise "ohmwright" is here before anything waits for it, in whatever order the other scripts arrive.
globalThis.ohmwright = new Promise((resolve, reject) => {
  globalThis.ohmwrightReady = resolve;
  globalThis.ohmwrightFailed = reject;
});
globalThis.ohmwright.catch(() => {}); // told by the page
