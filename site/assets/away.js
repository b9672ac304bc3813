// What is due when the page is left, and when it is gone back to: browsers put pages aside as they are, and go on with them later.

// whenAway calls leave, and has jobs and tabs stop and go on; forms are those made so far, by tool.
export function whenAway({ leave, jobs, tabs, forms }) {
  let isAside = false;
  const goOn = () => {
    if (!isAside) return;
    isAside = false;
    jobs.returned();
    for (const tool of forms.keys()) tabs.later(tool);
  };
  window.addEventListener('pagehide', () => {
    leave();
    jobs.aside();
    isAside = true;
  });
  window.addEventListener('pageshow', goOn);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') leave();
    else if (isAside) goOn();
    else jobs.look();
  });
}
