/** Keeps time for a page whose own timers may be slowed down. Says nothing but that some of it has passed. */
let timer: ReturnType<typeof setInterval> | undefined;

self.onmessage = (event: MessageEvent<number>) => {
  clearInterval(timer);
  timer = setInterval(() => self.postMessage(null), event.data);
};
