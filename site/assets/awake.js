// Keeps the screen on while something is read from afar, where the device can. That it cannot is no fault.
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
    // the screen goes dark as it always does
  }
}

function letGo() {
  const held = lock;
  lock = null;
  held?.release().catch(() => {});
}

// A page that is not seen loses it.
if ('wakeLock' in navigator) document.addEventListener('visibilitychange', hold);
