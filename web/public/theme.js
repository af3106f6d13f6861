// Runs before the first paint, so that a dark page never flashes light. The choice is kept by src/shell/theme.ts.
(() => {
  const system = matchMedia('(prefers-color-scheme: dark)');
  const apply = () => {
    let choice = null;
    try {
      choice = localStorage.getItem('pourline.theme');
    } catch {
      // Storage may be closed to us; the system's choice then stands.
    }
    const dark = choice === 'dark' || (choice !== 'light' && system.matches);
    document.documentElement.dataset.theme = dark ? 'dark' : 'light';
  };
  apply();
  system.addEventListener('change', apply);
  addEventListener('storage', apply);
  addEventListener('pourline:theme', apply);
})();
