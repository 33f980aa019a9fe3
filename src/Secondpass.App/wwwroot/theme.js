// Runs before the page is drawn, so that it never flashes in the other theme.
(() => {
  try {
    const theme = localStorage.getItem('theme');
    if (theme === 'light' || theme === 'dark') {
      document.documentElement.dataset.theme = theme;
    }
  } catch {
    // A browser that keeps nothing follows the computer's theme.
  }
})();
