// Numbers as a person wants to read them: the rules of the program's own tables.

/** So many significant digits, at most `most` after the point. */
function significant(value, digits = 3, most = 6) {
  if (!Number.isFinite(value) || value === 0) return '0';
  // The power of what is shown: 99.99 is shown as 100.
  const power = Math.floor(Math.log10(Math.abs(Number(value.toPrecision(digits)))) + 1e-12);
  const text = value.toFixed(Math.min(most, Math.max(0, digits - 1 - power)));
  return Number(text) === 0 ? '0' : text;
}

/** A volume flow [m3/s] in L/s, or mL/s below 0.1 L/s. */
function flowText(flow) {
  const litres = 1000 * flow;
  if (Math.abs(litres) >= 0.1) return significant(litres, 3, 3) + ' L/s';
  const small = significant(1000 * litres, 3, 3);
  return small === '0' ? '0 L/s' : small + ' mL/s';
}

const celsius = (kelvin) => (kelvin - 273.15).toFixed(1);
const temperatureText = (kelvin) => celsius(kelvin) + ' °C';
/** What is left of a balance that should close: "closed" below what the solver leaves, else by how much it is open. */
const closureText = (rest) => (Math.abs(rest) < 1e-9 ? 'closed' : 'open by ' + Math.abs(rest).toExponential(0));

/**
 * A probability in whole percent, rounded towards one half and never 0 or 100, as in the program's tables
 * (tools/io/numbers.cpp). Where all samples or none say so, the inner end of the interval is what
 * is known.
 */
const percentDown = (share) => Math.floor(100 * share + 1e-9);
const percentUp = (share) => Math.ceil(100 * share - 1e-9);
const atLeast = (share) => `at least ${Math.min(percentDown(share), 99)} %`;
const atMost = (share) => `at most ${Math.max(percentUp(share), 1)} %`;

function probabilityText(value, interval) {
  const known = Array.isArray(interval) && interval.length === 2;
  if (known && interval[0] === interval[1] && (value >= 1 || value <= 0))
    return value >= 1 ? 'sure as described' : 'never as described';
  if (value >= 1) return atLeast(known ? interval[0] : value);
  if (value <= 0) return atMost(known ? interval[1] : value);
  return `${value > 0.5 ? Math.min(percentDown(value), 99) : Math.max(percentUp(value), 1)} %`;
}

function intervalText(interval) {
  if (!Array.isArray(interval) || interval.length !== 2) return '–';
  const low = percentDown(interval[0]), high = percentUp(interval[1]);
  if (high >= 100) return low <= 0 ? 'anything' : atLeast(interval[0]);
  return low <= 0 ? atMost(interval[1]) : `${low} to ${high} %`;
}

const percentText = (share) => significant(100 * share, 100 * share < 10 ? 2 : 3, 1) + ' %';
const speedText = (speed) => significant(100 * speed, 3, 2) + ' cm/s';
const pressureText = (pascal) => {
  const small = Math.abs(pascal) < 0.1 && pascal !== 0;
  return (pascal > 0 ? '+' : '') + significant(small ? 1000 * pascal : pascal, 3, small ? 1 : 2) +
      (small ? ' mPa' : ' Pa');
};
const millimetres = (metres) => String(Number(significant(1000 * metres, 4, 1)));
const degrees = (angle) => Number(significant(angle, 4, 1)) + '°';

/** Length for a scale bar: 1, 2 or 5 times a power of ten, not above `most`. */
function roundLength(most) {
  const power = 10 ** Math.floor(Math.log10(most));
  for (const factor of [5, 2])
    if (factor * power <= most * (1 + 1e-9)) return factor * power;
  return power;
}

/** Round numbers from low to high, about `count` of them. */
function ticks(low, high, count) {
  const span = Math.max(high - low, 1e-12);
  const power = 10 ** Math.floor(Math.log10(span / count));
  const step = [1, 2, 5, 10].map((f) => f * power).find((s) => span / s <= count);
  const list = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * span; ++k) list.push(k * step);
  return {step, list};
}

const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const plus = (a, b) => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
const times = (a, s) => [a[0] * s, a[1] * s, a[2] * s];
const through = (matrix, v) => matrix.map((row) => dot(row, v));
/** Unit vector that points down, in the device's frame. */
const downOf = (poseToWorld) => times(poseToWorld[2], -1);
