// What is due when the page is left, and when it is gone back to: browsers put pages aside as they are, and go on with them later.

// whenAway calls leave, and has jobs and tabs stop and go on; forms are those made so far, by tool.
export function whenAway({ leave, jobs, tabs, forms }) {
  document.addEventListener('visibilitychange', () => document.visibilityState === 'hidden' && leave());
  window.addEventListener('pagehide', () => {
    leave();
    jobs.aside();
  });
  window.addEventListener('pageshow', ({ persisted }) => {
    if (!persisted) return;
    jobs.returned();
    for (const tool of forms.keys()) tabs.later(tool);
  });
}
