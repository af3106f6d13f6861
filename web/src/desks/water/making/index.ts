export { MakingPage } from './making-page.tsx';
