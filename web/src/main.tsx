import './no-eval.ts';
import './style/index.css';
import './shell/shell.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { bootReplica } from './replica/index.ts';
import { isLive, preload, Root } from './shell/root.tsx';

const place = document.getElementById('app');
if (!place) throw new Error('main: the page has no #app');

preload();
const ready = bootReplica();
// Nothing flickers when the first drawing already has the documents; the live view does not wait for them.
if (!isLive()) await Promise.allSettled([ready]);
createRoot(place).render(
  <StrictMode>
    <Root ready={ready} />
  </StrictMode>,
);
