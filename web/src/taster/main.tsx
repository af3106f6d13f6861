import '../style/index.css';
import './style/taster.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { startKeeper } from './keeper.ts';
import { openShelf } from './shelf.ts';
import { TasterPage } from './taster-page.tsx';
import { say } from './words.ts';

const place = document.getElementById('taste');
if (!place) throw new Error('main: the page has no #taste');
document.title = say('title');

// The code in the address came by the picture; it is taken out again, so that it stays in no history.
const code = new URLSearchParams(location.hash.replace(/^#/, '')).get('code') ?? '';
if (code !== '') history.replaceState(null, '', location.pathname);

const keeper = startKeeper(await openShelf());
addEventListener('online', () => keeper.nudge());
document.addEventListener('visibilitychange', () => {
  if (document.visibilityState === 'visible') keeper.nudge();
});
createRoot(place).render(
  <StrictMode>
    <TasterPage keeper={keeper} code={code} />
  </StrictMode>,
);
