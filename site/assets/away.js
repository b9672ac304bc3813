// What is due when the page is left, and when it is gone back to. Browsers put pages aside as they are; one that is gone back to is loaded
// anew, since others may have changed all that it knows.

// whenAway calls leave, with true where the page is only hidden, and tells jobs and the address.
export function whenAway({ leave, jobs, address }) {
  let isAside = false;
  window.addEventListener('pagehide', () => {
    leave();
    jobs.aside();
    address.rest();
    isAside = true;
  });
  window.addEventListener('pageshow', () => isAside && jobs.returned());
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') leave(true);
    else if (!isAside) jobs.look();
  });
}
