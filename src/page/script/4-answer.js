/* The answer: verdict, pictures and what is marked on them, true size, advice. SPDX-License-Identifier: MIT */

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
  const { clear, ground } = answer.logo;
  $('logo-caption').textContent = `The logo as sent${clear ? `, ${ground ? `laid on ${ground}` : 'chequered'} where it is transparent` : ''}`;
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
    'leave-out': value === 'lettering' ? 'the drawing without its lettering' : points > 1 ? `${points} parts left out` : `the part at ${value.replace(':', ' % from the left, ')} % from the top left out`,
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
