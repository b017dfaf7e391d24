/* The shelf of logos, as a row and as a table. SPDX-License-Identifier: MIT */

/* ---- the shelf ---- */

const BODY_MAX = 40e6; /* bytes; more is not taken */

/* Logos that were dropped, chosen or pasted; the first of them comes to the front. */
async function receive(files) {
  const logos = await Promise.all([...files].map(newLogo)); /* stand together, whatever else is dropped meanwhile */
  page.shelf.push(...logos);
  if (logos.length) bringToFront(logos[0]);
}

const blankLogo = (id, file, order) => ({ id, file, order, answer: null, answered: '', got: '', ended: '', wrong: '', line: '',
  waits: '', again: false, state: 'waiting', sweep: null, kept: false });

/* Read at once into memory, so that a file that is moved away meanwhile does no harm. */
async function newLogo(file) {
  const logo = blankLogo(++page.numbers, file, usualOrder());
  try {
    if (file.size > BODY_MAX) throw new Error(`${file.name} is larger than 40 MB`);
    logo.file = new File([await file.arrayBuffer()], file.name || 'logo.png', { type: file.type });
    await keepFile(logo);
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
  keepShelf();
  showAll();
  $('shelf-list').querySelector('li:has([aria-current])').scrollIntoView({ block: 'nearest', inline: 'nearest' });
  pump();
}

function takeOff(logo) {
  const at = page.shelf.indexOf(logo);
  if (page.question?.logo === logo) breakOff();
  page.shelf.splice(at, 1);
  tab.drop(fileKey(logo));
  keepShelf();
  if (page.front === logo) {
    breakSweep();
    page.front = null;
    if (page.shelf.length) bringToFront(page.shelf[Math.min(at, page.shelf.length - 1)]);
  }
  showAll();
  (page.front ? $('shelf-list').querySelector('[aria-current]') : $('choose')).focus();
  pump();
}

/* ---- kept in this tab ---- */

/* Each file under a name of its own, and who stands on the shelf, with all orders, under one. What the program said is asked
 * for anew. */
const KEPT_MAX = 3.5e6; /* bytes of all files: browsers give a page 5 million letters, of which 4 hold 3 bytes */

const fileKey = (logo) => `logo ${logo.id}`;

async function keepFile(logo) {
  if (logo.file.size > KEPT_MAX) return;
  const url = await new Promise((done, failed) => {
    const reader = new FileReader();
    reader.onload = () => done(reader.result);
    reader.onerror = () => failed(reader.error);
    reader.readAsDataURL(logo.file);
  });
  const { name, type } = logo.file;
  logo.kept = tab.set(fileKey(logo), JSON.stringify({ name, type, bytes: url.slice(url.indexOf(',') + 1) }));
}

/* If there is no room even for the orders, the last file makes it. */
function keepShelf() {
  const logos = page.shelf.filter((logo) => logo.kept);
  const told = () => JSON.stringify({ front: page.front?.id, logos: logos.map(({ id, order }) => ({ id, order })) });
  while (!tab.set('shelf', told()) && logos.length) {
    const last = logos.pop();
    last.kept = false;
    tab.drop(fileKey(last));
  }
  showKept();
}

function keptLogo({ id, order }) {
  const { name, type, bytes } = JSON.parse(tab.get(fileKey({ id })));
  const file = new File([Uint8Array.from(atob(bytes), (letter) => letter.charCodeAt(0))], name, { type });
  return Object.assign(blankLogo(id, file, { ...usualOrder(), ...order }), { kept: true });
}

/* The shelf as it was before this page was loaded anew. */
function takeKept() {
  let shelf = null;
  try { shelf = JSON.parse(tab.get('shelf')); } catch { /* not ours */ }
  for (const one of Array.isArray(shelf?.logos) ? shelf.logos : []) {
    try { page.shelf.push(keptLogo(one)); } catch { /* broken: without it */ }
  }
  page.numbers = Math.max(0, ...page.shelf.map((logo) => logo.id));
  for (const name of tab.names()) if (name.startsWith('logo ') && !page.shelf.some((logo) => fileKey(logo) === name)) tab.drop(name);
  const front = page.shelf.find((logo) => logo.id === shelf.front) ?? page.shelf[0];
  if (front) bringToFront(front);
}

const notKept = () => page.shelf.filter((logo) => !logo.kept && !logo.unread);

function showKept() {
  const names = notKept().map((logo) => logo.file.name).join(', ');
  $('not-kept').hidden = !names;
  $('not-kept').textContent = `Too large to be kept, and lost if this page is loaded anew: ${names}.`;
}

function forgetAll() {
  breakOff();
  breakSweep();
  for (const logo of page.shelf.splice(0)) tab.drop(fileKey(logo));
  page.front = page.sweep = null;
  keepShelf();
  showAll();
  $('choose').focus();
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
