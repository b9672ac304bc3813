// The worker's way in, around the worker.mjs that github.com/syumai/workers generates. That one starts a Go program for each request;
// this one lets few requests have a program at once, and the others wait in order, so that memory is that of few programs.
import worker from './worker.mjs';

const PROGRAMS = 2; // at once
const MOST = 64 << 10; // bytes of a question; one more tells the program that it is too long
const LOST = 5_000; // milliseconds without a sign after which a program, or one who waits, counts as gone

const running = new Set(); // {since}: who has a program
const waiting = new Set(); // {due}: who waits, the first first, and when he looks again

export default {
  fetch(request, env, ctx) {
    const answer = answered(request, env, ctx);
    ctx.waitUntil(answer.catch(() => {})); // who goes away in the middle leaves no program standing
    return answer;
  },
};

async function answered(request, env, ctx) {
  const bare = !request.body || request.method === 'GET' || request.method === 'HEAD'; // the program reads no body of these
  const asked = bare ? request : new Request(request, { body: await begun(request.body) });
  const place = await turn();
  try {
    const answer = await worker.fetch(asked, env, ctx);
    const whole = await answer.arrayBuffer(); // so that a slow reader keeps no program
    return new Response(whole.byteLength > 0 ? whole : null, answer);
  } finally {
    running.delete(place);
  }
}

// begun reads a body before its program starts, so that a slow asker keeps none, and no more than the program reads of it.
async function begun(body) {
  const pieces = [];
  let size = 0;
  const reader = body.getReader();
  while (size <= MOST) {
    const { done, value } = await reader.read();
    if (done) return new Blob(pieces).arrayBuffer();
    pieces.push(value.slice(0, MOST + 1 - size));
    size += value.length;
  }
  reader.cancel().catch(() => {});
  return new Blob(pieces).arrayBuffer();
}

// turn waits until few enough run and nobody waits before. Each waits on a timer of his own: the platform lets no request wait on
// another one's.
async function turn() {
  const own = { due: 0 };
  waiting.add(own);
  for (;;) {
    const now = Date.now();
    for (const place of running) if (place.since + LOST < now) running.delete(place);
    let before = 0;
    for (const other of waiting) {
      if (other === own) break;
      if (now < other.due + LOST) before++;
    }
    if (running.size + before < PROGRAMS) break;
    const pause = Math.min(2 + 10 * before, LOST / 2);
    own.due = now + pause;
    await scheduler.wait(pause);
  }
  waiting.delete(own);
  const place = { since: Date.now() };
  running.add(place);
  return place;
}
