import './no-eval.ts';
import './style/index.css';
import './shell/shell.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { bootReplica } from './replica/index.ts';
import { App, preloadDesk } from './shell/app.tsx';
import { t } from './words/index.ts';

const place = document.getElementById('app');
if (!place) throw new Error('main: the page has no #app');

try {
  preloadDesk();
  await bootReplica();
  createRoot(place).render(
    <StrictMode>
      <App />
    </StrictMode>,
  );
} catch (error) {
  const detail = error instanceof Error ? error.message : String(error);
  const line = document.createElement('p');
  line.className = 'cannot-open';
  line.setAttribute('role', 'alert');
  line.textContent = t('shell.cannot_open', { detail });
  place.replaceChildren(line);
}
