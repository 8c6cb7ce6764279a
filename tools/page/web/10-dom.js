// Elements. Text always goes in as text; nothing on this page turns text into elements.

const SVG = 'http://www.w3.org/2000/svg';

function fill(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes || {})) {
    if (value === undefined || value === null || value === false) continue;
    node.setAttribute(name, value === true ? '' : String(value));
  }
  for (const child of children.flat()) {
    if (child === undefined || child === null || child === false) continue;
    node.append(typeof child === 'object' ? child : document.createTextNode(String(child)));
  }
  return node;
}

/** An HTML element with attributes and children; strings become text. */
function el(tag, attributes, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

/** The same in SVG. */
function svg(tag, attributes, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

/** Numbers in SVG need no more than a hundredth of a pixel. */
function px(value) {
  return Math.round(value * 100) / 100;
}

/**
 * Control characters shown, marks that turn the writing direction shown, long texts cut to `most` letters.
 */
function shown(text, most = 60) {
  const letters = Array.from(String(text));
  const cut = letters.length > most ? letters.slice(0, most - 1).concat('…') : letters;
  return cut
      .map((letter) => {
        const code = letter.codePointAt(0);
        const hidden = code < 32 || code === 127 || (code >= 0x200e && code <= 0x200f) ||
            (code >= 0x202a && code <= 0x202e) || (code >= 0x2066 && code <= 0x2069);
        return hidden ? '\\u' + code.toString(16).padStart(4, '0') : letter;
      })
      .join('');
}

/** A name that cannot reorder the words around it, for SVG text. */
function isolated(name, most) {
  return '\u2068' + shown(name, most) + '\u2069';
}

/** A name in HTML: set apart, with all of it at hand when it was cut. */
function nameOf(text, most = 60) {
  const short = shown(text, most);
  return el(
      'bdi', {title: short === text ? null : shown(text, 400), class: short.length < 22 ? 'together' : null},
      short);
}

/** Heads of columns that hold numbers, or sentences. */
const numbers = (head) => ({head, kind: 'number'});
const prose = (head) => ({head, kind: 'words'});

/**
 * A table that can be scrolled with the keyboard where it is too wide. `rows` hold cells or values; `heads`
 * are text or elements, or made by the functions above. The first column names the row.
 */
function table(caption, heads, rows, rowAttributes = () => ({})) {
  const columns = heads.map((head) => (head.kind ? head : {head, kind: null}));
  const head = el('tr', {}, columns.map((c) => el('th', {scope: 'col', class: c.kind}, c.head)));
  const cellOf = (cell, k) =>
      k === 0 ? el('th', {scope: 'row'}, cell) : el('td', {class: columns[k].kind}, cell);
  const body = rows.map((row, i) => el('tr', rowAttributes(i), row.map(cellOf)));
  return hinted(el(
      'div', {class: 'sheet', tabindex: 0, role: 'region', 'aria-label': shown(caption, 200)},
      el('table', {}, el('caption', {}, shown(caption, 200)), el('thead', {}, head), el('tbody', {}, body))));
}

/** The frame, with a word above it while what it holds is wider than it. */
function hinted(frame) {
  const look = () => frame.classList.toggle('wide', frame.scrollWidth > frame.clientWidth + 1);
  if (typeof ResizeObserver === 'function') new ResizeObserver(look).observe(frame);
  return frame;
}

/** The same, or nothing where there are no rows. */
function tableOfAny(caption, heads, rows) {
  return rows.length ? table(caption, heads, rows) : null;
}

/** Something folded away under a heading of its own. */
function folded(heading, ...content) {
  return el('details', {class: 'more'}, el('summary', {}, heading), ...content);
}

const measuring = document.createElement('canvas').getContext('2d');
const family = getComputedStyle(document.documentElement).fontFamily;
const widths = new Map();

/**
 * Width of a text as it will be drawn [px]. Kept, since turning the device asks for the same ones again and
 * again.
 */
function textWidth(text, size, bold) {
  const key = `${bold ? 'b' : 'n'}${size} ${text}`;
  if (!widths.has(key)) {
    if (widths.size > 5000) widths.clear();
    measuring.font = `${bold ? 650 : 400} ${size}px ${family}`;
    widths.set(key, measuring.measureText(text).width * 1.04 + 1);
  }
  return widths.get(key);
}

/** As much of a text as fits into a width [px]. */
function fitted(text, width, size, bold) {
  if (textWidth(text, size, bold) <= width) return text;
  const letters = Array.from(text);
  let low = 0, high = letters.length;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (textWidth(letters.slice(0, middle).join('') + '…', size, bold) <= width)
      low = middle;
    else
      high = middle - 1;
  }
  return letters.slice(0, low).join('') + '…';
}
