/* The page in the browser: a shelf of logos, one of them in front with its order and its answer.
 * SPDX-License-Identifier: MIT
 *
 * What is asked of the program goes to POST /answer, /sweep, /files and /keep (docs/page.md): the logo, and options as
 * one would type them. The program computes and says; this file only shows. It keeps everything in the browser's memory;
 * what one must type again is the price of storing nothing of a client's. Only what the reader's own screen is like (how
 * long its millimetre is, which units are read) is kept in the browser.
 *
 * How an answer comes to be seen:
 *   1. a control changes the order of the logo in front (`changed`); what was being asked for it is broken off;
 *   2. when hands that type rest for a moment, `pump` asks: the logo in front first, then the others of the shelf, one at a time;
 *   3. the line "drawn" is shown at once, the line "advised" when it comes; each only if its question is still the last;
 *   4. until then the earlier pictures stay, dimmed. If the program refuses, its line stands where the verdict stands.
 */
'use strict';

/* ---- small things ---- */

const $ = (id) => document.getElementById(id);

/* A new element: attributes (`text`, `on…` are special), then what is in it. Nothing is ever made from HTML text. */
function el(tag, attributes = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name === 'text') made.textContent = value;
    else if (name.startsWith('on')) made.addEventListener(name.slice(2), value);
    else made.setAttribute(name, value === true ? '' : value);
  }
  made.append(...inside.filter((part) => part !== null));
  return made;
}

/* The same for what is drawn. */
function drawn(tag, attributes = {}, text = '') {
  const made = document.createElementNS('http://www.w3.org/2000/svg', tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  if (text) made.textContent = text;
  return made;
}

/* A patch of a colour, for the eye alone. */
function swatch(...colours) {
  const patch = el('span', { class: 'swatch', 'aria-hidden': 'true' });
  const share = 100 / colours.length;
  patch.style.background = colours.length < 2 ? colours[0] ?? 'transparent'
    : `linear-gradient(90deg, ${colours.map((c, i) => `${c} ${i * share}% ${(i + 1) * share}%`).join(', ')})`;
  return patch;
}

/* Puts new things into `place`; what had the focus there has it again, if it is still there by its `data-key`. */
function refill(place, things) {
  const had = place.contains(document.activeElement) ? document.activeElement.dataset.key : undefined;
  place.replaceChildren(...things);
  if (had === undefined) return;
  const again = [...place.querySelectorAll('[data-key]')].find((one) => one.dataset.key === had);
  (again ?? $('verdict')).focus({ preventScroll: true });
}

const percent = (share) => (share >= 0.995 ? '100 %' : share < 0.01 ? 'under 1 %' : `${Math.round(share * 100)} %`);

/* Kept for this screen alone; a browser that keeps nothing is fine. */
const kept = {
  get(name) { try { return localStorage.getItem(name); } catch { return null; } },
  set(name, value) { try { localStorage.setItem(name, value); } catch { /* then not */ } },
};

/* ---- numbers, as people type them ---- */

const MM_PER_IN = 25.4;

/* "16", "16,5", "5/8", "1 1/8" as a number; NaN if it is none. */
function number(text) {
  const plain = text.trim().replace(/\s+/g, ' ').replace(',', '.');
  const parts = /^(?:(\d+) )?(\d+)\/(\d+)$/.exec(plain);
  if (parts) return Number(parts[1] ?? 0) + Number(parts[2]) / Number(parts[3]);
  return /^\d*\.?\d+$|^\d+\.$/.test(plain) ? Number(plain) : NaN;
}

/* "1 000", "12,500", "1.000.000": before three figures a blank, comma or dot only parts the thousands. */
function whole(text) {
  const plain = text.trim().replace(/[\s\u00a0\u202f,.](?=\d{3}(\D|$))/g, '');
  return /^\d+$/.test(plain) ? Number(plain) : NaN;
}

const counted = (count, what) => `${count} ${what}${count === 1 ? '' : 's'}`;
const thousands = (count) => String(count).replace(/\B(?=(\d{3})+$)/g, '\u00a0');

/* A length to read and to type again: "16", "0.63". */
function spokenLength(mm) {
  const value = page.units === 'in' ? mm / MM_PER_IN : mm;
  return String(Number(value.toFixed(page.units === 'in' ? 3 : 2)));
}

/* "22x14mm", "0.875x0.5in", "0.875inx14mm" in mm; null if it is none of these. */
function sizeFromOption(text) {
  const side = /^([\d.,/ ]+?)\s*(mm|cm|in)?$/;
  const [first, second] = text.split('x').map((part) => side.exec(part.trim()));
  if (!first || !second) return null;
  const per = { mm: 1, cm: 10, in: MM_PER_IN };
  const unit = second[2] ?? 'mm';
  const mm = [number(first[1]) * per[first[2] ?? unit], number(second[1]) * per[unit]];
  return mm.some(Number.isNaN) ? null : mm.map((value) => Number(value.toFixed(6)));
}

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
  show(logo);
  clearTimeout(page.rest);
  page.rest = setTimeout(pump, rest);
}

/* ---- the shelf ---- */

const BODY_MAX = 40e6; /* bytes; more is not taken */

/* Logos that were dropped, chosen or pasted; the first of them comes to the front. */
async function receive(files) {
  const logos = await Promise.all([...files].map(newLogo)); /* stand together, whatever else is dropped meanwhile */
  page.shelf.push(...logos);
  if (logos.length) bringToFront(logos[0]);
}

/* Read at once into memory, so that a file that is moved away meanwhile does no harm. */
async function newLogo(file) {
  const logo = { id: ++page.numbers, file, order: usualOrder(), answer: null, answered: '', got: '', ended: '', wrong: '', line: '',
    waits: '', again: false, state: 'waiting', sweep: null };
  try {
    if (file.size > BODY_MAX) throw new Error(`${file.name} is larger than 40 MB`);
    logo.file = new File([await file.arrayBuffer()], file.name || 'logo.png', { type: file.type });
  } catch (fault) {
    logo.line = fault.message.startsWith(file.name) ? fault.message : `${file.name} cannot be read`;
    end(logo, orderKey(logo), 'refused');
    logo.unread = true;
  }
  return logo;
}

function bringToFront(logo) {
  breakSweep();
  page.front = logo;
  page.sweep = logo.sweep;
  page.lit = 0;
  $('away-said').textContent = ''; /* said of another */
  $('replace-row').hidden = true;
  fillOrder();
  showAll();
  $('shelf-list').querySelector('li:has([aria-current])').scrollIntoView({ block: 'nearest', inline: 'nearest' });
  pump();
}

function takeOff(logo) {
  const at = page.shelf.indexOf(logo);
  if (page.question?.logo === logo) breakOff();
  page.shelf.splice(at, 1);
  if (page.front === logo) {
    breakSweep();
    page.front = null;
    if (page.shelf.length) bringToFront(page.shelf[Math.min(at, page.shelf.length - 1)]);
  }
  showAll();
  (page.front ? $('shelf-list').querySelector('[aria-current]') : $('choose')).focus();
  pump();
}

/* A long name without its middle; the whole of it is the button's title. */
const shortName = (name) => (name.length <= 26 ? name : `${name.slice(0, 12)}…${name.slice(-12)}`);

/* "go"; what is said of a logo on the shelf in a word or two. */
function shelfWord(logo) {
  if (logo.state === 'refused') return 'no answer';
  if (logo.state === 'waiting' || logo.state === 'wrong') return 'waits';
  if (!isFresh(logo)) return 'being laid up';
  return logo.answer.verdict;
}

function showShelf() {
  $('shelf').hidden = page.shelf.length === 0;
  refill($('shelf-list'), page.shelf.map((logo) => {
    const word = shelfWord(logo);
    const picture = logo.answer ? el('img', { src: pictureOf(logo.answer.face.png), alt: '' }) : el('span', { class: 'noface' });
    return el('li', { 'data-verdict': word },
      el('button', { type: 'button', class: 'stand', 'data-key': `stand ${logo.id}`, 'aria-current': logo === page.front ? 'true' : null, title: logo.file.name,
        onclick: () => bringToFront(logo) }, picture,
        el('span', { class: 'label' }, el('span', { class: 'logo-name', text: shortName(logo.file.name) }), el('span', { class: 'word', text: word }))),
      el('button', { type: 'button', class: 'off', 'data-key': `off ${logo.id}`, 'aria-label': `Take ${logo.file.name} off the shelf`, title: 'Take it off the shelf',
        onclick: () => takeOff(logo), text: '×' }));
  }));
}

/* The shelf as a table: the one that many logos get on the command line. */
function showTable() {
  $('table-section').hidden = page.shelf.length < 2;
  refill($('table'), page.shelf.map((logo) => {
    const answer = isFresh(logo) ? logo.answer : null;
    const told = (text, head) => el('td', { text: text ?? '', 'data-head': head, role: 'cell' });
    const row = (label) => (answer ? rowText(answer, label) : '');
    return el('tr', { role: 'row', 'data-verdict': shelfWord(logo) },
      el('th', { scope: 'row', role: 'rowheader' }, el('button', { type: 'button', class: 'plain', 'data-key': `row ${logo.id}`, text: logo.file.name,
        onclick: () => { bringToFront(logo); $('verdict').focus(); } })),
      told(shelfWord(logo), 'Verdict'), told(row('Order'), 'Order'), told(logo.state === 'refused' ? logo.line : row('Why'), 'Why'),
      told(answer?.ropes, 'Ropes'), told(answer?.minutes, 'Minutes'), ...(page.shop.prices ? [told(answer?.price, 'Price')] : []));
  }));
}

/* ---- showing ---- */

const pictureOf = (base64) => `data:image/png;base64,${base64}`;

/* Something of the logo has changed. */
function show(logo) {
  showShelf();
  showTable();
  if (logo === page.front) showFront();
}

function showAll() {
  showShelf();
  showTable();
  showFront();
}

function showFront() {
  const logo = page.front;
  const hadFocus = Boolean(logo) && $('start').contains(document.activeElement);
  $('start').hidden = Boolean(logo);
  $('foot').hidden = $('skip').hidden = !logo;
  for (const id of ['answer', 'order', 'more']) $(id).hidden = !logo;
  document.title = 'Picture candy from a logo';
  if (!logo) return;
  showVerdict(logo);
  showPictures(logo);
  showAdvice(logo);
  showInks(logo);
  showAlso(logo);
  showBlanks(logo);
  showFacts(logo);
  showSweep();
  if (hadFocus) $('verdict').focus({ preventScroll: true }); /* what had it is gone */
}

/* An order's key without what only its letter depends on. */
const pieceKey = (key) => JSON.stringify(JSON.parse(key).filter(([name]) => !LETTERS_OWN.includes(name)));
const LETTERS_OWN = ['name', 'valid-until'];

/* Is what is seen the answer to what is asked? While only the letter is another, the pictures and the verdict are. */
const isFresh = (logo) => isLetterFresh(logo) || (isAnswered(logo) && pieceKey(logo.answered) === pieceKey(orderKey(logo)));
const isLetterFresh = (logo) => isAnswered(logo) && logo.answered === orderKey(logo);
const isAnswered = (logo) => Boolean(logo.answer) && !['refused', 'wrong'].includes(logo.state);

/* "night-ferry.png can be built…" without the word before it, which stands in the stamp. */
const withoutWord = (headline) => headline.replace(/^[A-Z]+:\s*/, '');

function showVerdict(logo) {
  const { answer } = logo;
  const fresh = isFresh(logo);
  const refusedNow = logo.state === 'refused';
  const verdict = fresh ? answer.verdict : refusedNow ? 'refused' : 'asking';
  $('said').dataset.verdict = verdict;
  $('stamp').textContent = fresh ? answer.verdict.toUpperCase() : '';
  $('stamp').hidden = !fresh;
  $('verdict').replaceChildren(...(fresh ? [el('span', { class: 'unseen', text: `${answer.verdict.toUpperCase()}: ` }), withoutWord(answer.headline)]
    : [refusedNow ? `No answer for ${logo.file.name}` : logo.state === 'wrong' ? 'Something in the order cannot be' : `${logo.file.name} is being laid up …`]));
  $('glance').replaceChildren(...(fresh ? glance(answer) : [logo.waits]).map((line) => el('span', { text: line })));
  $('trouble').hidden = !refusedNow;
  $('trouble-line').textContent = logo.line;
  $('again').hidden = !logo.again;
  $('working').hidden = !fresh || logo.state !== 'drawn' || answer.advice !== null;
  $('working').textContent = 'Looking for what helps …';
  $('answer').setAttribute('aria-busy', String(!fresh && !refusedNow));
  document.title = `${fresh ? `${answer.verdict.toUpperCase()}: ` : ''}${logo.file.name} – picture candy from a logo`;
  speak(refusedNow ? logo.line : fresh ? [answer.headline, answer.advice?.[0]?.text].filter(Boolean).join('. ') : '');
}

/* What speaks of the command's options speaks of the page's controls. */
const onPage = (text) => text.replace(/ \(-[a-z](, -[a-z])*\)/g, '')
  .replace('--fit whole lays all of it on a background', '“whole, on a background” in More of the order lays all of it')
  .replace(/, or use --name(?= \])/, '');

/* The rows of an answer, each with the lines that go on with it: [label, [line, …]]. */
function rowsOf(answer) {
  const rows = [];
  for (const { label, text } of answer.rows) {
    if (label || !rows.length) rows.push([label, [onPage(text)]]);
    else rows[rows.length - 1][1].push(onPage(text));
  }
  return rows;
}

/* What a row says, in one line; '' if there is none. */
const rowText = (answer, label) => rowsOf(answer).find(([name]) => name === label)?.[1].join('; ') ?? '';

/* What is asked first of all: why it is not go, what it takes. */
function glance(answer) {
  const FIRST = 2;
  const why = rowsOf(answer).find(([label]) => label === 'Why')?.[1] ?? [];
  const more = why.length > FIRST ? `; and ${why.length - FIRST} more` : '';
  const takes = [counted(answer.ropes, 'rope'), `about ${answer.minutes} min to lay up`, answer.price].filter(Boolean).join(', ');
  return [answer.verdict === 'go' ? '' : why.slice(0, FIRST).join('; ') + more, answer.verdict === 'no' ? '' : takes].filter(Boolean);
}

/* For those who hear the page; the same words are not said twice. */
function speak(words) {
  if (words && $('spoken').textContent !== words) $('spoken').textContent = words;
}

function showPictures(logo) {
  const { answer } = logo;
  $('pictures').hidden = !answer;
  $('marks-tick').hidden = !answer || answer.places.length === 0;
  $('pictures').classList.toggle('old', Boolean(answer) && !isFresh(logo));
  $('earlier').hidden = !(answer && ['refused', 'wrong'].includes(logo.state));
  showTrueSize(answer);
  if (!answer) return;
  setPicture($('logo-picture'), answer.logo.png, `The logo ${logo.file.name}; see it large`);
  setPicture($('face-picture'), answer.face.png, `The finished cut: ${answer.inks.map((ink) => ink.candy).filter((c, i, all) => all.indexOf(c) === i).join(', ')}; see it large`);
  showMarks();
}

function setPicture(image, png, alt) {
  const source = pictureOf(png);
  if (image.src !== source) image.src = source;
  image.alt = alt;
}

/* ---- what does not come out ---- */

/* Rings and numbers over a picture, whatever its size on the screen. `side`: its width and height in its own pixels. */
function drawMarks(svg, plate, side, places, at) {
  const box = plate.querySelector('img').getBoundingClientRect();
  const outer = plate.getBoundingClientRect();
  const scale = Math.min(box.width / side.width, box.height / side.height);
  const shown = { w: side.width * scale, h: side.height * scale };
  const left = box.left - outer.left - plate.clientLeft + (box.width - shown.w) / 2;
  const top = box.top - outer.top - plate.clientTop + (box.height - shown.h) / 2;
  svg.setAttribute('viewBox', `0 0 ${plate.clientWidth} ${plate.clientHeight}`);
  svg.replaceChildren();
  const badge = Math.max(9, Math.min(16, shown.w / 26));
  const taken = [];
  const numbers = []; /* above all rings */
  for (const place of places) {
    const point = place[at];
    if (!point) continue;
    const ring = { x: left + point[0] * shown.w, y: top + point[1] * shown.h, r: Math.max((at === 'logo' ? place.logo_radius : place.radius) * shown.w, badge) };
    const look = page.lit === 0 ? 'mark' : page.lit === place.number ? 'mark lit' : 'mark dim';
    svg.append(ringMark(ring, look));
    numbers.push(numberMark(place, ring, look, badge, taken, { w: plate.clientWidth, h: plate.clientHeight }));
  }
  svg.append(...numbers);
}

/* Dark on light, so that it is seen on any candy. */
function ringMark(ring, look) {
  const group = drawn('g', { class: look });
  for (const line of ['ring under', 'ring']) group.append(drawn('circle', { class: line, cx: ring.x, cy: ring.y, r: ring.r }));
  return group;
}

/* The number on its ring's edge, where no other number stands. */
function numberMark(place, ring, look, badge, taken, room) {
  const spots = [-45, 0, -90, 45, 180, 90, -135, 135].map((turn) => {
    const a = turn * Math.PI / 180;
    return { x: ring.x + Math.cos(a) * ring.r, y: ring.y + Math.sin(a) * ring.r };
  });
  const isFree = (s) => s.x > badge && s.y > badge && s.x < room.w - badge && s.y < room.h - badge
    && taken.every((t) => Math.hypot(t.x - s.x, t.y - s.y) > 2.1 * badge);
  const spot = spots.find(isFree) ?? spots[0];
  taken.push(spot);
  const group = drawn('g', { class: look });
  group.append(drawn('circle', { class: 'badge', cx: spot.x, cy: spot.y, r: badge }),
    drawn('text', { x: spot.x, y: spot.y, 'font-size': badge * 1.25, 'text-anchor': 'middle', 'dominant-baseline': 'central' }, String(place.number)));
  return group;
}

function showMarks() {
  const answer = page.front?.answer;
  if (!answer) return;
  const places = $('marks').checked ? answer.places : [];
  drawMarks($('logo-marks'), $('logo-plate'), answer.logo, places, 'logo');
  drawMarks($('face-marks'), $('face-plate'), { width: 1, height: 1 }, places, 'face');
  if ($('large').open) drawMarks($('large-marks'), $('large-plate'), large.at === 'logo' ? answer.logo : { width: 1, height: 1 }, places, large.at);
}

/* The list in words; a press points at the place on both pictures. */
function showPlaces(answer) {
  $('places').hidden = answer.places.length === 0;
  $('no-places').hidden = answer.places.length > 0;
  $('more-places').hidden = !answer.more_places;
  $('more-places').textContent = `and ${answer.more_places} more`;
  refill($('places'), answer.places.map((place) => el('li', {},
    el('button', { type: 'button', class: 'place', 'data-key': `place ${place.number}`, 'aria-pressed': String(page.lit === place.number),
      onclick: () => pointAt(place.number) }, el('span', { class: 'count', text: place.number }), el('span', { text: place.text })))));
}

function pointAt(place) {
  page.lit = page.lit === place ? 0 : place;
  if (page.lit) $('marks').checked = true;
  showPlaces(page.front.answer);
  showMarks();
}

/* A picture as large as the window, with its marks. */
const large = { at: 'face' };

function showLarge(at) {
  const { answer, file } = page.front;
  large.at = at;
  $('large').classList.remove('wide');
  $('large-marks').toggleAttribute('hidden', false);
  $('large-title').textContent = at === 'logo' ? `${file.name}, as sent` : 'The finished cut, as hands can lay it';
  setPicture($('large-picture'), answer[at].png, $(`${at}-picture`).alt.replace('; see it large', ''));
  $('large').showModal();
  requestAnimationFrame(showMarks);
}

/* The heap of finished pieces, as the client gets it; drawn only when it is asked for. */
async function seeMockup() {
  const logo = page.front;
  if (sayAway(logo, logo.wrong)) return;
  sayAway(logo, 'The picture is being drawn …');
  try {
    const response = await post('/files', () => questionBody(logo, [['file', 'mockup.jpg']]));
    if (!response.ok) { sayAway(logo, await refusal(response)); return; }
    if (page.front !== logo) return;
    $('away-said').textContent = '';
    const address = URL.createObjectURL(await response.blob());
    $('large-title').textContent = `${logo.file.name}, the picture for the client`;
    $('large-picture').src = address;
    $('large-picture').alt = 'A heap of the finished pieces on a table';
    $('large-marks').toggleAttribute('hidden', true);
    $('large').classList.add('wide');
    $('large').showModal();
    $('large').addEventListener('close', () => URL.revokeObjectURL(address), { once: true });
  } catch {
    sayAway(logo, UNHEARD);
  }
}

/* ---- true size ---- */

/* The piece from its end and from its side, and a line to hold a ruler to. */
function showTrueSize(answer) {
  $('true').hidden = !answer;
  if (!answer) return;
  $('true').style.setProperty('--screen', page.screen);
  const mm = (length) => `calc(${length}mm * var(--screen))`; /* on paper a mm is one */
  const inches = page.units === 'in';
  const face = el('img', { src: pictureOf(answer.face.png), alt: 'The finished cut at true size' });
  face.style.width = face.style.height = mm(answer.face.span_mm);
  const line = el('span', { class: 'rule', 'aria-hidden': 'true' });
  line.style.width = mm(inches ? MM_PER_IN : 20);
  const typed = el('input', { id: 'screen', inputmode: 'decimal', size: 4, 'data-key': 'screen', 'aria-label': `The line measures, in ${inches ? 'inches' : 'mm'}`,
    value: inches ? '1' : '20', onchange: (event) => setScreen(event.target.value) });
  refill($('true'), [face, sideView(answer, mm),
    el('div', { class: 'ruling' }, el('span', { text: `True size, where this line is ${inches ? '1 in' : '20 mm'} long:` }), line,
      el('label', {}, 'A screen may be off; here it measures ', typed, ` ${inches ? 'in' : 'mm'}`))]);
}

/* A rule held to the line says how far off this screen is. */
function setScreen(text) {
  const asked = page.units === 'in' ? 1 : 20;
  const measured = number(text);
  if (measured >= asked / 4 && measured <= asked * 4) page.screen *= asked / measured;
  kept.set('screen', String(page.screen));
  showTrueSize(page.front.answer);
}

/* The jacket along the piece's length: the half of the stripes that is seen from there. */
function sideView(answer, mm) {
  const { across, length } = pieceOf(answer);
  const view = drawn('svg', { viewBox: `0 0 ${length} ${across}`, class: 'side', role: 'img', 'aria-label': 'The piece from its side at true size' });
  view.style.width = mm(length);
  view.style.height = mm(across);
  const { candies, stripes } = answer.jacket;
  const many = Math.max(stripes, 1);
  for (let i = 0; i < Math.ceil(many / 2); i++) {
    const edge = (turn) => across / 2 * (1 - Math.cos(Math.min(turn, 1) * Math.PI));
    const from = many < 2 ? 0 : edge(2 * i / many);
    const to = many < 2 ? across : edge(2 * (i + 1) / many);
    view.append(drawn('rect', { x: 0, y: from, width: length, height: to - from, fill: candyColour(candies[i % candies.length], answer) }));
  }
  view.append(drawn('rect', { x: 0, y: 0, width: length, height: across, class: 'edge' }));
  return view;
}

/* What the answer is of, which is not what is typed while another is asked. */
function pieceOf(answer) {
  const asked = JSON.parse(page.front.answered).find(([name]) => name === 'piece');
  return { across: answer.face.span_mm, length: asked ? sizeFromOption(asked[1])[1] : page.shop.standard.length_mm };
}

/* How a candy looks: of the stock, of this answer, or of both of a blend. */
function candyColours(name, answer) {
  const stock = page.shop.candies.find((candy) => candy.name === name);
  if (stock) return [stock.srgb];
  const ink = answer?.inks.find((one) => one.candy === name);
  if (ink) return [ink.candy_srgb];
  const both = name.split('+').map((part) => part.replace(/^\d+/, '').trim());
  return both.length > 1 ? both.flatMap((part) => candyColours(part, answer)) : ['#888888'];
}

const candyColour = (name, answer) => candyColours(name, answer)[0];

/* ---- advice ---- */

/* What helps, each with a button: all options of it at once. */
function showAdvice(logo) {
  const fresh = isFresh(logo) && logo.answer.advice;
  const list = fresh ? logo.answer.advice.filter((one) => one.options.length > 0) : [];
  const lines = list.map((one, at) => el('p', { class: 'advice' },
    el('button', { type: 'button', class: at === 0 ? 'strong' : null, 'data-key': `advice ${at}`, 'aria-describedby': `advice-${at}`,
      text: 'Take this advice', onclick: () => takeAdvice(one) }), el('span', { id: `advice-${at}`, text: one.text })));
  const isOpen = Boolean($('advised').querySelector('details')?.open);
  $('advised').hidden = lines.length === 0;
  refill($('advised'), [...lines.slice(0, 1),
    lines.length > 1 ? el('details', { open: isOpen }, el('summary', { 'data-key': 'other', text: lines.length > 2 ? `${lines.length - 1} other ways` : 'Another way' }), ...lines.slice(1)) : null]
    .filter(Boolean));
}

function takeAdvice(advice) {
  advice.options.forEach(({ name, value }) => setOption(page.front.order, name, value));
  fillOrder();
  changed(0);
  $('verdict').focus();
}

/* One option into the order: to its control if it has one, else to what is also asked for. */
function setOption(order, name, value) {
  const size = name === 'piece' ? sizeFromOption(value) : null;
  const setters = {
    pieces: () => { order.pieces = whole(value); order.mass = null; },
    weight: () => { order.mass = value; },
    colours: () => { order.colours = Number(value); },
    field: () => { order.field = value; },
    map: () => { const [ink, candy] = value.split('='); order.map[`#${ink.replace('#', '').toUpperCase()}`] = candy; },
    jacket: () => { order.jacket = value.split(','); },
    stripes: () => { order.stripes = Number(value); },
    detail: () => { order.detail = value; },
    name: () => { order.name = value; },
    'valid-until': () => { order.until = value; },
  };
  if (size) [order.across, order.length] = size;
  else if (setters[name]) setters[name]();
  else {
    const adds = name === 'join' || name === 'leave-out';
    order.also = [...order.also.filter((one) => adds || one.name !== name), { name, value }];
  }
}

/* "2 parts left out": what was taken from advice and has no control of its own, each to be taken back. */
function alsoWords({ name, value }) {
  const points = value.split(',').length;
  const words = {
    'leave-out': points > 1 ? `${points} parts left out` : `the part at ${value.replace(':', ' % from the left, ')} % from the top left out`,
    join: `the colour ${value.replace('=', ' as ')}`,
    people: `${value} people laying up`,
    'warm-box': `the warm box at ${value.replace(/[CF]?$/, '')} °${/F$/.test(value) ? 'F' : 'C'}`,
    fit: value === 'crop' ? 'cropped to a disc' : value === 'whole' ? 'the whole picture on a background' : '',
    ropes: `at most ${value} ropes`,
    'no-fine': 'no fine blocks',
  };
  return words[name] || `${name} ${value}`;
}

function showAlso(logo) {
  const { order } = logo;
  $('also').hidden = order.also.length === 0;
  refill($('also'), order.also.map((one, at) => el('li', {}, el('span', { text: alsoWords(one) }),
    el('button', { type: 'button', class: 'off', 'data-key': `also ${at}`, 'aria-label': `Take back: ${alsoWords(one)}`, text: '×',
      onclick: () => { order.also.splice(at, 1); fillOrder(); changed(0); } }))));
}

/* ---- the order ---- */

/* What the fields of the sentence hold, from the order. */
function fillOrder() {
  const { order } = page.front;
  const mass = order.mass ? /^([\d.]+)/.exec(order.mass)[1] : '';
  $('amount-unit').value = order.mass ? 'mass' : 'pieces';
  $('amount-unit').options[1].text = page.units === 'in' ? 'lb' : 'kg';
  $('amount').value = order.mass ? mass : thousands(order.pieces);
  $('across').value = spokenLength(order.across);
  $('length').value = spokenLength(order.length);
  $('colours').value = String(order.colours);
  $('detail').value = order.detail;
  $('name').value = order.name;
  $('until').value = order.until;
  for (const name of ['fit', 'people']) $(name).value = order.also.find((one) => one.name === name)?.value ?? String(page.shop.standard[name]);
  for (const unit of document.querySelectorAll('.unit')) unit.textContent = page.units;
  for (const field of ['amount', 'across', 'length']) fault($(field), '');
  readWrong('');
  if (page.front.state === 'wrong') page.front.state = isOpen(page.front) ? 'asking' : page.front.ended;
}

/* What was typed, if it can be; else why not, in a line, and nothing is asked. */
function readOrder(event) {
  const { order } = page.front;
  const { ranges } = page.shop;
  const faults = [readAmount(order, ranges.pieces),
    readLength(order, 'across', 'A piece', ranges.diameter_mm, 'across'), readLength(order, 'length', 'A piece', ranges.length_mm, 'long')];
  order.colours = Number($('colours').value);
  order.detail = $('detail').value;
  order.name = $('name').value;
  order.until = $('until').value >= '2000' ? $('until').value : ''; /* 0002-05-01: the year is being typed */
  readWrong(faults.find(Boolean) ?? '');
  if (page.front.wrong) breakOff();
  changed(event?.type === 'input' ? 250 : 0); /* more may be typed */
}

function readWrong(line) {
  page.front.wrong = line;
  if ($('wrong').textContent !== line) $('wrong').textContent = line; /* it is read out each time */
  $('wrong').hidden = !line;
}

/* Marks a field whose text is no good; returns what is wrong with it. */
function fault(field, line) {
  if (line) field.setAttribute('aria-invalid', 'true');
  else field.removeAttribute('aria-invalid');
  if (line) field.setAttribute('aria-describedby', 'wrong');
  else field.removeAttribute('aria-describedby');
  return line;
}

function readAmount(order, [least, most]) {
  const field = $('amount');
  if ($('amount-unit').value === 'mass') {
    const mass = number(field.value);
    if (!(mass > 0)) return fault(field, 'A mass is a number over 0.');
    order.mass = `${mass}${page.units === 'in' ? 'lb' : 'kg'}`;
  } else {
    const pieces = whole(field.value);
    if (!(pieces >= least && pieces <= most)) return fault(field, `Pieces are a whole number from ${thousands(least)} to ${thousands(most)}.`);
    order.pieces = pieces;
    order.mass = null;
  }
  return fault(field, '');
}

function readLength(order, what, name, [least, most], word) {
  const field = $(what);
  if (field.value.trim() === spokenLength(order[what])) return fault(field, ''); /* as it was shown: 5/8 in stays that */
  const mm = number(field.value) * (page.units === 'in' ? MM_PER_IN : 1);
  if (!(mm >= least - 1e-9 && mm <= most + 1e-9)) return fault(field, `${name} is ${spokenLength(least)} to ${spokenLength(most)} ${page.units} ${word}.`);
  order[what] = Number(mm.toFixed(6));
  return fault(field, '');
}

/* Background and jacket, which are chosen in a list of candies. */
function showBlanks(logo) {
  const { order, answer } = logo;
  const chosen = answer?.inks.find((ink) => ink.field)?.candy;
  const field = order.field || chosen;
  const label = (id, what) => $(id).setAttribute('aria-label', `${what}: ${$(id).textContent}`);
  $('field').replaceChildren(...(field ? [swatch(...candyColours(field, answer))] : []), el('span', { text: order.field || (chosen ? `${chosen}, as suits it` : 'as suits it') }));
  const own = order.jacket.length > 0;
  const jacket = own && order.jacket[0] !== 'auto' ? order.jacket : answer?.jacket.candies ?? [];
  const words = !own ? 'as the background' : order.jacket[0] === 'auto' ? `${jacket.join(' and ')}, as suits it` : order.jacket.join(' and ');
  const stripes = jacket.length > 1 && answer && answer.jacket.stripes > 1 ? `, ${order.stripes || answer.jacket.stripes} stripes` : '';
  $('jacket').replaceChildren(...(jacket.length ? [swatch(...jacket.flatMap((one) => candyColours(one, answer)))] : []), el('span', { text: words + stripes }));
  label('field', 'background');
  label('jacket', 'jacket');
}

/* Each ink of the logo, how much of it there is, and the candy that stands for it. */
function showInks(logo) {
  const { answer, order } = logo;
  $('inks-title').hidden = !answer;
  refill($('inks'), (answer?.inks ?? []).map((ink) => {
    const asked = order.map[ink.srgb];
    const words = `${ink.text}${ink.field ? ', background' : ''}`;
    return el('li', {}, el('span', { class: 'ink' }, ink.srgb ? swatch(ink.srgb) : el('span', { class: 'swatch clear', title: 'transparent' }), el('span', { text: percent(ink.share) })),
      el('button', { type: 'button', class: 'blank', 'data-key': `ink ${ink.srgb}`, 'aria-label': `${words}: ${ink.srgb ? `for the colour ${ink.srgb}` : 'where the logo is transparent'}, ${percent(ink.share)} of it`,
        onclick: () => (ink.srgb ? chooseForInk(ink) : chooseField()) },
      swatch(...(ink.made === 'blend' ? candyColours(ink.candy, answer) : [ink.candy_srgb])), el('span', { text: asked ? `${words}, as you asked` : words })));
  }));
}

/* ---- choosing a candy ---- */

/* A list of candies to press, in the dialog; `now`: what is asked for. Each choice calls `take` and closes. */
function openCandies(title, note, inside) {
  const form = $('candy-form');
  form.replaceChildren(el('h2', { id: 'candy-title', text: title }), ...(note ? [el('p', {}, ...note)] : []), ...inside,
    el('p', { class: 'end' }, el('button', { type: 'submit', value: '', text: 'Leave it as it is' })));
  $('candy').showModal();
}

function candyButton(label, colours, isNow, act) {
  return el('button', { type: 'button', class: 'candy-choice', 'aria-pressed': String(isNow), onclick: act }, colours.length ? swatch(...colours) : null, el('span', { text: label }));
}

/* Closes the dialog and asks anew. */
function settle(change) {
  change(page.front.order);
  $('candy').close();
  changed(0);
}

function stockButtons(now, take) {
  return el('div', { class: 'candies', role: 'group', 'aria-label': 'From stock' },
    ...page.shop.candies.map((candy) => candyButton(candy.finish === 'clear' && !candy.name.startsWith('clear') ? `${candy.name} (clear)` : candy.name, [candy.srgb],
      now === candy.name, () => settle((order) => take(order, candy.name)))));
}

/* "violet+2white": one part of violet and two of white, folded. */
function blendFields(now, take) {
  const [one, two] = (now?.includes('+') ? now.split('+') : [page.shop.candies[0].name, '']).map((part) => /^(\d)?(.*)$/.exec(part));
  const pulled = page.shop.candies.filter((candy) => candy.finish === 'pulled');
  const parts = (label, value) => el('select', { 'aria-label': label }, ...[1, 2, 3, 4, 5, 6, 7, 8, 9].map((n) => el('option', { text: n, value: n, selected: String(n) === (value ?? '1') })));
  const candies = (label, value) => el('select', { 'aria-label': label }, ...pulled.map((c) => el('option', { text: c.name, value: c.name, selected: c.name === value })));
  const fields = [parts('Parts of the first candy', one[1]), candies('First candy', one[2]), parts('Parts of the second candy', two?.[1]), candies('Second candy', two?.[2] || pulled[1]?.name)];
  const typed = ([a, first, b, second]) => `${a > 1 ? a : ''}${first}+${b > 1 ? b : ''}${second}`;
  return el('fieldset', { class: 'blend' }, el('legend', { text: 'A blend of two candies, folded, streaked; no batch of its own' }),
    fields[0], ' of ', fields[1], ' and ', fields[2], ' of ', fields[3], ' ',
    el('button', { type: 'button', text: 'Fold these', onclick: () => settle((order) => take(order, typed(fields.map((field) => field.value)))) }));
}

function chooseForInk(ink) {
  const now = page.front.order.map[ink.srgb];
  const take = (order, candy) => { order.map[ink.srgb] = candy; };
  openCandies('A candy for this colour', [swatch(ink.srgb), ` ${ink.srgb}, ${percent(ink.share)} of the logo; now ${ink.text}`], [
    el('div', { class: 'candies', role: 'group', 'aria-label': 'Without stock' },
      candyButton('as suits it', [], !now, () => settle((order) => { delete order.map[ink.srgb]; })),
      candyButton('dyed to order', [ink.srgb], now === 'dye', () => settle((order) => take(order, 'dye')))),
    el('h3', { text: 'From stock' }), stockButtons(now, take), blendFields(now, take)]);
}

function chooseField() {
  const now = page.front.order.field;
  const take = (order, candy) => { order.field = candy; };
  openCandies('The background’s candy', null, [
    el('div', { class: 'candies', role: 'group', 'aria-label': 'Without stock' }, candyButton('as suits it', [], !now, () => settle((order) => take(order, '')))),
    el('h3', { text: 'From stock' }), stockButtons(now, take), blendFields(now, take)]);
}

/* One candy or several, in the order in which they are pressed, and into how many stripes they go. */
function chooseJacket() {
  const { order } = page.front;
  const MOST = 6;
  let picked = order.jacket[0] === 'auto' ? [] : [...order.jacket];
  const grid = el('div', { class: 'candies', role: 'group', 'aria-label': 'From stock, up to six, in their order' });
  const field = order.field || page.front.answer?.inks.find((ink) => ink.field)?.candy;
  const plain = page.shop.standard.jacket && field ? [field] : []; /* a shop with a usual jacket must be told its name */
  const without = el('div', { class: 'candies', role: 'group', 'aria-label': 'Without choosing' },
    candyButton('as the background', [], order.jacket.length === 0, () => settle(() => { order.jacket = plain; order.stripes = 0; })),
    candyButton('stripes that suit', [], order.jacket[0] === 'auto', () => settle(() => { order.jacket = ['auto']; })));
  const stripes = el('select', { id: 'stripes' });
  const end = el('button', { type: 'button', class: 'strong', text: 'Wrap it in these',
    onclick: () => settle(() => { order.jacket = picked; order.stripes = picked.length > 1 ? Number(stripes.value) : 0; }) });
  const fill = () => {
    refill(grid, page.shop.candies.map((candy) => {
      const at = picked.indexOf(candy.name);
      const button = candyButton(at < 0 || picked.length < 2 ? candy.name : `${at + 1}. ${candy.name}`, [candy.srgb], at >= 0, () => {
        picked = at < 0 ? [...picked, candy.name].slice(-MOST) : picked.filter((one) => one !== candy.name);
        fill();
      });
      button.dataset.key = candy.name;
      return button;
    }));
    const [, most] = page.shop.ranges.stripes;
    const was = Number(stripes.value) || order.stripes;
    const counts = picked.length > 1 ? Array.from({ length: Math.floor(most / picked.length) }, (_, i) => (i + 1) * picked.length) : [];
    stripes.replaceChildren(el('option', { value: 0, text: 'as usual' }), ...counts.map((n) => el('option', { value: n, text: n, selected: n === was })));
    for (const button of without.children) if (picked.length) button.setAttribute('aria-pressed', 'false');
    stripes.disabled = counts.length === 0;
    end.disabled = picked.length === 0;
  };
  fill();
  openCandies('The jacket: the outer wrap', null, [without,
    el('h3', { text: 'From stock: one, or several for stripes' }), grid,
    el('p', {}, el('label', {}, 'Stripes round it ', stripes), ' ', end)]);
}

/* ---- in words ---- */

const OF_A_TERMINAL = ['Type', 'Open', 'Send', 'More']; /* rows that only a command line needs */

function showFacts(logo) {
  const { answer } = logo;
  $('more').classList.toggle('old', !isFresh(logo));
  $('more').hidden = !answer;
  if (!answer) return;
  showPlaces(answer);
  $('rows').replaceChildren(...rowsOf(answer).filter(([label]) => !OF_A_TERMINAL.includes(label)).flatMap(([label, lines]) =>
    [el('dt', { text: label }), ...lines.map((line) => el('dd', { text: line }))]));
  showChecks(answer.checks);
  showLetter(answer);
  $('copy').setAttribute('aria-disabled', String(!mayCopy(logo))); /* not `disabled`, which would lose the focus */
  $('command').parentElement.hidden = !answer.command;
  $('command').textContent = answer.command ?? '';
}

/* What is not go first, each in the order of the program. */
function showChecks(checks) {
  const weight = { no: 0, change: 1, go: 2 };
  const bad = checks.filter((check) => check.verdict !== 'go').length;
  $('checks-summary').textContent = `All ${checks.length} checks: ${bad === 0 ? 'every one is go' : `${bad} not go`}`;
  $('checks').replaceChildren(...[...checks].sort((a, b) => weight[a.verdict] - weight[b.verdict]).map((check) =>
    el('tr', { 'data-verdict': check.verdict }, el('th', { scope: 'row', text: check.name }), el('td', { text: check.verdict }), el('td', { text: check.text }))));
}

/* A letter's lines are broken for an e-mail; on the page each paragraph takes the width there is. A short line is a line of its own. */
const unbroken = (letter) => letter.split('\n\n').map((paragraph) => paragraph.replace(/(.{56,})\n/g, '$1 ')).join('\n\n');

/* The letter, with the gaps that are left to its writer marked. */
function showLetter(answer) {
  const parts = answer.letter ? unbroken(onPage(answer.letter)).split(/(\[ .+? \])/s) : ['The letter is being written …'];
  $('letter').replaceChildren(...parts.map((part) => (part.startsWith('[ ') ? el('mark', { text: part }) : part)));
  $('gaps').hidden = parts.length < 2;
}

const mayCopy = (logo) => Boolean(logo.answer?.letter) && isLetterFresh(logo);

async function copyLetter() {
  if (!mayCopy(page.front)) { $('copied').textContent = 'There is no letter of this order yet.'; return; }
  const letter = onPage(page.front.answer.letter);
  try {
    await navigator.clipboard.writeText(letter);
    $('copied').textContent = 'Copied.';
  } catch {
    getSelection().selectAllChildren($('letter')); /* a page that is not from this computer may not copy by itself */
    $('copied').textContent = document.execCommand('copy') ? 'Copied.' : 'It is marked: copy it with Ctrl-C.';
  }
  setTimeout(() => { $('copied').textContent = ''; }, 4000);
}

/* ---- other sizes and orders ---- */

/* What the table depends on: not on the size and number that one takes from it. */
const sweepKey = (logo) => JSON.stringify(orderOptions(logo.order).filter(([name]) => !['pieces', 'weight', 'piece', 'name', 'valid-until'].includes(name)));

/* What is drawn of it stays. */
function breakSweep() {
  if (!page.sweep || page.sweep.done) return;
  Object.assign(page.sweep, { done: true, line: 'Stopped before it was whole.' });
  page.sweep.breaker.abort();
}

async function startSweep() {
  breakSweep();
  const logo = page.front;
  const sweep = { logo, key: sweepKey(logo), rows: [], done: false, line: '', breaker: new AbortController() };
  page.sweep = logo.sweep = sweep;
  $('sizes-spoken').textContent = '';
  showSweep();
  try {
    const response = await post('/sweep', () => questionBody(logo), sweep.breaker);
    if (!response.ok) sweep.line = await refusal(response);
    else {
      for await (const row of linesOf(response)) {
        if (sweep.done) return;
        if (row.stage === 'end') Object.assign(sweep, { done: true, line: row.line ?? '' });
        else sweep.rows.push(row);
        showSweep();
      }
      if (!sweep.done) sweep.line = BROKEN;
    }
  } catch (fault) {
    if (fault.name !== 'AbortError') sweep.line = UNHEARD;
  }
  sweep.done = true;
  if (page.sweep !== sweep) return;
  showSweep();
  $('sizes-spoken').textContent = sweep.line || 'The table is drawn.';
}

function showSweep() {
  const { sweep } = page;
  const isOld = Boolean(sweep) && sweep.key !== sweepKey(page.front);
  $('sizes-scrolls').hidden = !sweep || sweep.rows.length === 0;
  $('sizes-scrolls').classList.toggle('old', isOld);
  $('sweep').textContent = !sweep ? 'Draw the table' : sweep.done ? 'Draw it anew' : 'Stop';
  $('sizes-state').textContent = !sweep ? '' : sweep.line ? sweep.line : isOld ? 'The order has changed since: draw it anew.'
    : sweep.done ? 'Press one to take its size and number.' : `${sweep.rows.length} drawn so far …`;
  if (!sweep) return;
  const counts = [...new Set(sweep.rows.map((row) => row.pieces))].sort((a, b) => a - b);
  const across = [...new Set(sweep.rows.map((row) => row.diameter_mm))].sort((a, b) => a - b);
  $('sizes-head').replaceChildren(el('tr', {}, el('th', { scope: 'col', text: 'Across' }), ...counts.map((n) => el('th', { scope: 'col', text: `${thousands(n)} pieces` }))));
  refill($('sizes'), across.map((mm) => el('tr', {}, el('th', { scope: 'row', text: `${spokenLength(mm)} ${page.units}` }),
    ...counts.map((n) => sweepCell(sweep.rows.find((row) => row.diameter_mm === mm && row.pieces === n))))));
}

/* The piece, as large beside the others as it is, its verdict, and why. */
function sweepCell(row) {
  if (!row) return el('td');
  const { order } = page.front;
  const isNow = !order.mass && order.across === row.diameter_mm && order.pieces === row.pieces;
  const face = el('img', { src: pictureOf(row.face), alt: '' });
  face.style.width = `${row.diameter_mm * 0.22}rem`;
  return el('td', { 'data-verdict': row.verdict }, el('button', { type: 'button', class: 'size', 'data-key': `${row.diameter_mm} ${row.pieces}`, 'aria-pressed': String(isNow),
    onclick: () => { row.options.forEach(({ name, value }) => setOption(order, name, value)); fillOrder(); changed(0); } },
  face, el('span', { class: 'word', text: row.verdict }), ...[row.verdict === 'go' ? '' : row.reason, row.ropes ? counted(row.ropes, 'rope') : '', row.price].filter(Boolean).map((text) => el('span', { class: 'why', text }))));
}

/* ---- to take away ---- */

/* The name that the program gives a file. */
function nameOf(response, otherwise) {
  const header = response.headers.get('Content-Disposition') ?? '';
  const coded = /filename\*=UTF-8''([^;]+)/i.exec(header);
  if (coded) return decodeURIComponent(coded[1]);
  return /filename="?([^";]+)"?/.exec(header)?.[1] ?? otherwise;
}

/* Says what became of a logo's files, if it is still the one that is seen; returns what. */
function sayAway(logo, what) {
  if (what && page.front === logo) $('away-said').textContent = what;
  return what;
}

async function takeAway(file) {
  const logo = page.front;
  if (sayAway(logo, logo.wrong)) return;
  sayAway(logo, `${file || 'The folder'} is being made …`);
  try {
    const response = await post('/files', () => questionBody(logo, file ? [['file', file]] : []));
    if (!response.ok) { sayAway(logo, await refusal(response)); return; }
    const name = nameOf(response, file || `${logo.file.name}.zip`);
    const link = el('a', { href: URL.createObjectURL(await response.blob()), download: name });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    sayAway(logo, `${name} is in your downloads.`);
  } catch {
    sayAway(logo, UNHEARD);
  }
}

/* Into the folder of the program's own computer; what is there already is replaced only when asked twice. */
async function keep(force) {
  const logo = page.front;
  $('replace-row').hidden = true;
  if (sayAway(logo, logo.wrong)) return;
  sayAway(logo, 'It is being kept …');
  try {
    const response = await post('/keep', () => questionBody(logo, force ? [['force', 'yes']] : []));
    sayAway(logo, response.ok ? (await response.json()).line : await refusal(response));
    $('replace-row').hidden = response.status !== 409 || page.front !== logo;
  } catch {
    sayAway(logo, UNHEARD);
  }
}

/* ---- units ---- */

function setUnits(units) {
  page.units = units;
  kept.set('units', units);
  if (!page.front) return;
  const { order } = page.front;
  if (order.mass) order.mass = order.mass.replace(/([\d.]+)(kg|lb)/, (_, mass, unit) =>
    (unit === 'kg' ? `${Number((mass / 0.45359237).toFixed(2))}lb` : `${Number((mass * 0.45359237).toFixed(2))}kg`));
  fillOrder();
  changed(0);
}

/* ---- what is pressed, dropped and typed ---- */

function listenToFiles() {
  const takeFiles = (list) => { if (list.length) receive(list); };
  for (const id of ['choose', 'another']) $(id).addEventListener('click', () => $('file').click());
  $('file').addEventListener('change', () => { takeFiles($('file').files); $('file').value = ''; });
  document.addEventListener('paste', (event) => {
    const files = [...(event.clipboardData?.files ?? [])];
    if (files.length) event.preventDefault();
    takeFiles(files);
  });
  const over = (event) => {
    if (![...(event.dataTransfer?.types ?? [])].includes('Files')) return;
    event.preventDefault();
    $('letgo').hidden = false;
  };
  document.addEventListener('dragenter', over);
  document.addEventListener('dragover', over);
  document.addEventListener('dragleave', (event) => { if (!event.relatedTarget) $('letgo').hidden = true; });
  document.addEventListener('drop', (event) => {
    event.preventDefault();
    $('letgo').hidden = true;
    takeFiles(event.dataTransfer?.files ?? []);
  });
}

function listenToOrder() {
  $('sentence').addEventListener('submit', (event) => { event.preventDefault(); readOrder(event); });
  for (const id of ['amount', 'across', 'length', 'name', 'until']) $(id).addEventListener('input', readOrder);
  for (const id of ['colours', 'detail']) $(id).addEventListener('change', readOrder);
  $('amount-unit').addEventListener('change', () => {
    const { order } = page.front;
    const mass = $('amount-unit').value === 'mass';
    $('amount').value = mass ? String(page.units === 'in' ? 10 : 5) : thousands(order.pieces);
    readOrder();
  });
  $('field').addEventListener('click', chooseField);
  $('jacket').addEventListener('click', chooseJacket);
  for (const name of ['fit', 'people']) $(name).addEventListener('change', () => {
    const { order } = page.front;
    order.also = order.also.filter((one) => one.name !== name);
    if ($(name).value !== String(page.shop.standard[name])) order.also.push({ name, value: $(name).value });
    changed(0);
  });
  $('standard').addEventListener('click', () => { const { name, until } = page.front.order; Object.assign(page.front.order, usualOrder(), { name, until }); fillOrder(); changed(0); });
}

function listenToAnswer() {
  $('again').addEventListener('click', () => { page.front.got = ''; changed(0); });
  $('marks').addEventListener('change', showMarks);
  $('logo-large').addEventListener('click', () => showLarge('logo'));
  $('face-large').addEventListener('click', () => showLarge('face'));
  $('large-close').addEventListener('click', () => $('large').close());
  new ResizeObserver(showMarks).observe($('face-plate'));
  new ResizeObserver(showMarks).observe($('large-plate'));
  $('copy').addEventListener('click', copyLetter);
  $('sweep').addEventListener('click', () => { if (page.sweep && !page.sweep.done) { breakSweep(); showSweep(); } else startSweep(); });
  for (const button of $('away').querySelectorAll('[data-file]')) button.addEventListener('click', () => takeAway(button.dataset.file));
  $('see').addEventListener('click', seeMockup);
  $('keep').addEventListener('click', () => keep(false));
  $('replace').addEventListener('click', () => keep(true));
}

/* What the shop says: its units, candies, usual order, whether it has prices and a folder. */
async function openShop() {
  const response = await fetch('/shop');
  if (!response.ok) throw new Error(await refusal(response));
  takeShop(await response.json());
  page.units = kept.get('units') ?? page.shop.units;
  page.screen = Number(kept.get('screen')) || 1;
  document.querySelector(`#units [value=${page.units}]`).checked = true;
  $('units').addEventListener('change', (event) => setUnits(event.target.value));
}

function takeShop(shop) {
  page.shop = shop;
  for (const what of ['colours', 'people']) {
    const [least, most] = shop.ranges[what];
    const was = $(what).value;
    $(what).replaceChildren(...Array.from({ length: most - least + 1 }, (_, i) => el('option', { value: least + i, text: least + i })));
    if (was) $(what).value = was;
  }
  $('keep-row').hidden = !shop.keep;
  for (const head of document.querySelectorAll('.priced')) head.hidden = !shop.prices;
  $('version').textContent = `logocane ${shop.version}`;
}

/* A picture that the desktop has handed over: its place is behind the # of this page's address. */
async function takeHanded() {
  const place = location.hash.slice(1);
  if (!/^handed\/[0-9a-f]+$/.test(place)) return;
  history.replaceState(null, '', location.pathname);
  const response = await fetch(`/${place}`);
  if (!response.ok) throw new Error(await refusal(response));
  await receive([new File([await response.blob()], decodeURIComponent(response.headers.get('X-Logocane-Name')))]);
}

async function open() {
  try {
    await openShop();
  } catch (fault) {
    $('start-trouble').textContent = fault instanceof TypeError ? UNHEARD : fault.message;
    $('start-trouble').hidden = false;
    return;
  }
  listenToFiles();
  listenToOrder();
  listenToAnswer();
  showAll();
  try {
    await takeHanded();
  } catch (fault) {
    $('start-trouble').textContent = fault instanceof TypeError ? UNHEARD : fault.message;
    $('start-trouble').hidden = false;
  }
}

open();
