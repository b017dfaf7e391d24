/* Below: words, the letter, the table of sizes, what is taken away; and what is listened to. SPDX-License-Identifier: MIT */

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
  fillOrder();
  changed(0);
}

/* ---- what is pressed, dropped and typed ---- */

function listenToFiles() {
  const takeFiles = (list) => { if (list.length) receive(list); };
  for (const id of ['choose', 'another']) $(id).addEventListener('click', () => $('file').click());
  $('forget').addEventListener('click', () => { if (window.confirm(`Forget ${counted(page.shelf.length, 'logo')}?`)) forgetAll(); });
  window.addEventListener('beforeunload', (event) => { if (notKept().length) event.preventDefault(); }); /* the browser asks */
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
  takeKept();
  try {
    await takeHanded();
  } catch (fault) {
    $('start-trouble').textContent = fault instanceof TypeError ? UNHEARD : fault.message;
    $('start-trouble').hidden = false;
  }
}

open();
