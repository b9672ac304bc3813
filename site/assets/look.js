// Sets the screen's look before anything is drawn.
try {
  document.documentElement.dataset.look = localStorage.getItem('ohmwright/look') || 'auto';
} catch {
  document.documentElement.dataset.look = 'auto'; // storage is forbidden here: the page says so
}
