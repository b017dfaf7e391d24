/* The page in the browser: a shelf of logos, one of them in front with its order and its answer.
 * SPDX-License-Identifier: MIT
 *
 * What is asked of the program goes to POST /answer, /sweep, /files and /keep (docs/page.md): the logo, and options as
 * one would type them. The program computes and says; this file only shows. Logos and orders are kept in this tab until it
 * is closed, so that loading it anew loses none (3-shelf.js). For longer the browser keeps only what the reader's own screen
 * is like: how long its millimetre is, which units are read.
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

/* What the browser keeps under names. One that keeps nothing is fine; `set` tells whether it did. */
const store = (place) => ({
  get(name) { try { return window[place].getItem(name); } catch { return null; } },
  set(name, value) { try { window[place].setItem(name, value); return true; } catch { return false; } },
  names() { try { return Object.keys(window[place]); } catch { return []; } },
  drop(name) { try { window[place].removeItem(name); } catch { /* it was not there */ } },
});
const kept = store('localStorage'); /* for this screen */
const tab = store('sessionStorage'); /* until this tab is closed */

/* ---- numbers, as people type them ---- */

const MM_PER_IN = 25.4;
const KG_PER_LB = 0.45359237;

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

/* A length to read and to type again, in inches as the program's text has it: "16", "5/8", "1 1/8", "0.63". */
function spokenLength(mm) {
  if (page.units !== 'in') return String(Number(mm.toFixed(2)));
  const parts = Math.round(mm / MM_PER_IN * 32); /* a 32nd, the half of it, … */
  if (Math.abs(mm / MM_PER_IN * 32 - parts) >= 0.02) return String(Number((mm / MM_PER_IN).toFixed(2)));
  const below = [1, 2, 4, 8, 16, 32].find((one) => parts * one % 32 === 0);
  const over = parts * below / 32 % below;
  return [Math.floor(parts / 32) || (over ? '' : '0'), over ? `${over}/${below}` : ''].filter(Boolean).join(' ');
}

/* A bound of a range, which can be typed as it is told: the least no less, the most no more. */
function spokenBound(mm, round) {
  return page.units === 'in' ? String(round(mm / MM_PER_IN * 100) / 100) : spokenLength(mm);
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
