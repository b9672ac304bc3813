// Keeps the screen on while something is read from afar, if the device can do that. If not, that is no fault.
let wanted = false;
let lock = null;

export function keepAwake(on) {
  if (on === wanted) return;
  wanted = on;
  if (on) hold();
  else letGo();
}

async function hold() {
  if (!wanted || lock || document.visibilityState !== 'visible') return;
  try {
    const held = await navigator.wakeLock.request('screen');
    if (lock) return held.release(); // asked for twice
    lock = held;
    held.addEventListener('release', () => lock === held && (lock = null));
    if (!wanted) letGo();
  } catch {
    // the screen goes dark as it always does, and that is fine
  }
}

function letGo() {
  const held = lock;
  lock = null;
  held?.release().catch(() => {});
}

// A page that is hidden loses its hold: it is taken again when the page is seen.
if ('wakeLock' in navigator) document.addEventListener('visibilitychange', hold);
