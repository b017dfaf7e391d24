/* The order: its sentence, and the lists of candies. SPDX-License-Identifier: MIT */

/* ---- the order ---- */

/* A mass as it was ordered, "5kg", as a number of the units that are read and typed now. */
function spokenMass(mass) {
  const [, number, unit] = /^([\d.]+)(kg|lb)$/.exec(mass);
  if ((unit === 'lb') === (page.units === 'in')) return number;
  return String(Number((unit === 'kg' ? number / KG_PER_LB : number * KG_PER_LB).toPrecision(4)));
}

/* What the fields of the sentence hold, from the order. */
function fillOrder() {
  const { order } = page.front;
  $('amount-unit').value = order.mass ? 'mass' : 'pieces';
  $('amount-unit').options[1].text = page.units === 'in' ? 'lb' : 'kg';
  $('amount').value = order.mass ? spokenMass(order.mass) : thousands(order.pieces);
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
    if (order.mass && field.value.trim() === spokenMass(order.mass)) return fault(field, ''); /* as it was shown */
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
  if (!(mm >= least - 1e-9 && mm <= most + 1e-9)) return fault(field, `${name} is ${spokenBound(least, Math.ceil)} to ${spokenBound(most, Math.floor)} ${page.units} ${word}.`);
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
