/* What the page knows, and how the program is asked. SPDX-License-Identifier: MIT */

/* ---- what there is ---- */

const page = {
  token: document.querySelector('meta[name=token]').content, /* of this start of the program */
  shop: null,       /* of GET /shop: candies, usual order, what may be asked */
  units: 'mm',      /* read and typed: 'mm' or 'in' */
  shelf: [],        /* logos, as they were dropped */
  front: null,      /* the one that is seen */
  question: null,   /* what is being asked: {logo, key, breaker} */
  rest: 0,          /* timer of the rest before asking */
  numbers: 0,       /* logos dropped so far */
  sweep: null,      /* {logo, key, rows, done, line, breaker} */
  lit: 0,           /* number of the place that is pointed at, 0: none */
  screen: 1,        /* how many CSS mm are a mm on this screen */
};

/* The order of a logo nobody has changed. */
function usualOrder() {
  const usual = page.shop.standard;
  return {
    pieces: usual.pieces, mass: null, across: usual.diameter_mm, length: usual.length_mm, colours: usual.colours,
    field: usual.field ?? '', map: {}, jacket: usual.jacket ? usual.jacket.split(',') : [], stripes: usual.stripes ?? 0,
    detail: usual.detail, also: [],
    name: '', until: '',
  };
}

/* What of an order is not as usual, as options of the command, in the words of its help: [name, value] each. */
function orderOptions(order) {
  const usual = usualOrder();
  const list = [];
  const say = (name, value, isUsual) => { if (!isUsual) list.push([name, value]); };
  if (order.mass) list.push(['weight', order.mass]);
  else say('pieces', String(order.pieces), order.pieces === usual.pieces);
  say('piece', `${order.across}x${order.length}mm`, order.across === usual.across && order.length === usual.length);
  say('colours', String(order.colours), order.colours === usual.colours);
  say('field', order.field, order.field === usual.field);
  for (const [ink, candy] of Object.entries(order.map)) list.push(['map', `${ink}=${candy}`]);
  say('jacket', order.jacket.join(','), order.jacket.length === 0 || order.jacket.join() === usual.jacket.join());
  if (order.jacket.length > 1 || order.jacket[0] === 'auto') say('stripes', String(order.stripes), !order.stripes || order.stripes === usual.stripes);
  say('detail', order.detail, order.detail === usual.detail);
  say('units', page.units, page.units === page.shop.units);
  for (const { name, value } of order.also) list.push([name, value]);
  say('name', order.name.trim(), !order.name.trim());
  say('valid-until', order.until, !order.until);
  return list;
}

const orderKey = (logo) => JSON.stringify(orderOptions(logo.order));

/* ---- asking ---- */

/* The parts of a question: the options, then the logo. */
function questionBody(logo, more = []) {
  const body = new FormData();
  for (const [name, value] of [...orderOptions(logo.order), ...more]) body.append(name, value);
  body.append('logo', logo.file, logo.file.name);
  return body;
}

/* Was the program started anew since this page was loaded? Then its token and its shop are other ones: they are fetched,
 * so that the shelf need not be given up for a new page. */
async function isStartedAnew() {
  const html = await (await fetch('/')).text();
  const token = new DOMParser().parseFromString(html, 'text/html').querySelector('meta[name=token]')?.content;
  if (!token || token === page.token) return false;
  page.token = token;
  takeShop(await (await fetch('/shop')).json());
  return true;
}

/* `body` makes what is sent. */
async function post(path, body, breaker) {
  const send = () => fetch(path, { method: 'POST', body: body(), headers: { 'X-Logocane-Token': page.token }, signal: breaker?.signal });
  const response = await send();
  return response.status === 403 && await isStartedAnew() ? send() : response;
}

/* The line of a refusal, as the program says it. */
async function refusal(response) {
  try {
    const { line } = await response.json();
    return line || `refused (${response.status})`;
  } catch {
    return response.status === 401 ? 'The password is wanted: load this page again.' : `refused (${response.status})`;
  }
}

/* Each line of an answer as soon as it is there. */
async function* linesOf(response) {
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = '';
  for (;;) {
    const { value, done } = await reader.read();
    const lines = (rest + (value ?? '')).split('\n');
    rest = done ? '' : lines.pop();
    for (const line of lines) if (line.trim()) yield JSON.parse(line);
    if (done) return;
  }
}

const UNHEARD = 'No answer: the program behind this page does not run, or cannot be reached. Your logos stay here; when it runs again, ask again.';
const BROKEN = 'The answer broke off before it was whole.';

/* Must it be asked? Not twice the same, unless `got` was emptied. */
const isOpen = (logo) => !logo.wrong && !logo.unread && logo.got !== orderKey(logo);

/* Asks what is to be asked: the logo in front before all others, one at a time. */
function pump() {
  const first = page.front && isOpen(page.front) ? page.front : page.shelf.find(isOpen);
  if (!first) return;
  if (page.question) {
    if (first !== page.front || page.question.logo === page.front) return;
    breakOff(); /* the one in front does not wait for one behind */
  }
  ask(first);
}

function breakOff() {
  page.question?.breaker.abort();
  page.question = null;
}

/* One question, from the first byte sent to the last line heard. A late answer finds that it is not page.question. */
async function ask(logo) {
  const question = { logo, key: orderKey(logo), breaker: new AbortController() };
  const isLast = () => page.question === question;
  page.question = question;
  logo.state = 'asking';
  logo.got = ''; /* if this is broken off, it must be asked again, whatever was answered before */
  show(logo);
  try {
    const response = await post('/answer', () => questionBody(logo), question.breaker);
    if (response.status === 503) {
      const line = await refusal(response);
      if (isLast()) askLater(logo, line);
      return;
    }
    logo.waits = '';
    for (const one of page.shelf) if (one.line === UNHEARD) reopen(one); /* it runs again */
    if (!response.ok) {
      const line = await refusal(response);
      if (isLast()) refused(logo, question.key, line, ![400, 413, 422].includes(response.status));
    } else {
      for await (const line of linesOf(response)) {
        if (!isLast()) return;
        heard(logo, question.key, line);
      }
      if (isLast() && logo.state !== 'done') refused(logo, question.key, BROKEN);
    }
  } catch (fault) {
    if (isLast() && fault.name !== 'AbortError') refused(logo, question.key, fault instanceof SyntaxError ? BROKEN : UNHEARD);
  }
  if (!isLast()) return;
  page.question = null;
  pump();
}

function reopen(logo) {
  logo.line = '';
  if (logo !== page.question?.logo) Object.assign(logo, { got: '', state: 'waiting' });
}

/* Others are before us: the same again in a while. */
function askLater(logo, line) {
  page.question = null;
  logo.waits = line;
  show(logo);
  clearTimeout(page.rest);
  page.rest = setTimeout(pump, 2000);
}

function heard(logo, key, line) {
  if (line.stage === 'drawn') {
    const isSamePiece = isAnswered(logo) && pieceKey(logo.answered) === pieceKey(key);
    logo.answer = { ...line, advice: isSamePiece ? logo.answer.advice : null, letter: null };
    logo.answered = key;
    logo.line = '';
    logo.state = 'drawn';
  } else if (line.stage === 'advised') {
    logo.answer = { ...logo.answer, ...line };
    end(logo, key, 'done');
  }
  show(logo);
}

/* `again`: might the same question be answered another time? */
function refused(logo, key, line, again = true) {
  logo.line = line;
  logo.again = again;
  end(logo, key, 'refused');
  show(logo);
}

function end(logo, key, state) {
  logo.state = state;
  logo.ended = state;
  logo.got = key;
}

/* The order of the logo in front is another: shown as such at once, asked when hands rest. */
function changed(rest) {
  const logo = page.front;
  if (page.question?.logo === logo && page.question.key !== orderKey(logo)) breakOff();
  if (page.question?.logo !== logo) logo.state = logo.wrong ? 'wrong' : isOpen(logo) ? 'asking' : logo.ended;
  keepShelf();
  show(logo);
  clearTimeout(page.rest);
  page.rest = setTimeout(pump, rest);
}
