// Values as a person wants to read them: numbers by the rules of the program's own tables, and what a vent
// does.

/** So many significant digits, at most `most` after the point. */
function significant(value, digits = 3, most = 6) {
  if (!Number.isFinite(value) || value === 0) return '0';
  // The power of what is shown: 99.99 is shown as 100.
  const power = Math.floor(Math.log10(Math.abs(Number(value.toPrecision(digits)))) + 1e-12);
  const text = value.toFixed(Math.min(most, Math.max(0, digits - 1 - power)));
  return Number(text) === 0 ? '0' : text;
}

/** The units of geometry/device/units.hpp: of(x) of a value in SI units, and the factor for differences. */
const kUnits = (() => {
  const unit = (name, factor, zero = 0) => ({name, factor, of: (si) => factor * (si - zero)});
  return {
    metric: {
      temperature: unit('°C', 1, 273.15),
      flow: unit('L/s', 1000),
      speed: unit('m/s', 1),
      length: unit('mm', 1000),
      metre: unit('m', 1)
    },
    inch: {
      temperature: unit('°F', 1.8, 273.15 - 32 / 1.8),
      flow: unit('cfm', 60 / 0.3048 ** 3),
      speed: unit('ft/min', 60 / 0.3048),
      length: unit('in', 1 / 0.0254),
      metre: unit('ft', 1 / 0.3048)
    }
  };
})();
/** Those of this page: set once, before anything is built. */
let units = kUnits.metric;
const useUnits = (system) => {
  units = kUnits[system] || kUnits.metric;
};

/** A volume flow [m3/s]. */
const flowText = (flow) => `${significant(units.flow.of(flow), 3, 6)} ${units.flow.name}`;

/** A temperature [K] as a number, and with its unit. */
const degreesNumber = (kelvin) => units.temperature.of(kelvin).toFixed(1);
const temperatureText = (kelvin) => `${degreesNumber(kelvin)} ${units.temperature.name}`;
/**
 * What is left of a balance that should close: "closed" below what the solver leaves, else by how much it is
 * open.
 */
const closureText = (rest) =>
    (Math.abs(rest) < 1e-9 ? 'closed' : 'open by ' + Math.abs(rest).toExponential(0));

const percentText = (share) => significant(100 * share, 100 * share < 10 ? 2 : 3, 1) + ' %';
const speedText = (speed) => `${significant(units.speed.of(speed), 3, 5)} ${units.speed.name}`;
const pressureText = (pascal) => {
  const number = significant(pascal, 3, 4);
  return `${number !== '0' && pascal > 0 ? '+' : ''}${number} Pa`;
};
const lengthNumber = (metres) => String(Number(significant(units.length.of(metres), 4, 3)));
const degrees = (angle) => Number(significant(angle, 4, 1)) + '°';

/** Round numbers from low to high, about `count` of them. */
function ticks(low, high, count) {
  const span = Math.max(high - low, 1e-12);
  const power = 10 ** Math.floor(Math.log10(span / count));
  const step = [1, 2, 5, 10].map((f) => f * power).find((s) => span / s <= count);
  const list = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * span; ++k) list.push(k * step);
  return {step, list};
}

/** intake, exhaust, both-ways, idle, shut. */
const doing = (vent) => (vent.shut ? 'shut' : vent.role);
const roleClass = (vent) => 'role-' + doing(vent);

/** Streams of a vent that count: volume of room air [m3/s] and whether it leaves. */
function streamsOf(vent, density) {
  const role = doing(vent), of = (flow, out) => ({flow: flow / density, out});
  return [
    ...(['intake', 'both-ways'].includes(role) ? [of(vent.inflow_kg_s, false)] : []),
    ...(['exhaust', 'both-ways'].includes(role) ? [of(vent.outflow_kg_s, true)] : [])
  ];
}

/** "in 0.044 L/s, out 0.032 L/s"; or "next to nothing". */
function flowWords(page, vent, density) {
  const streams = streamsOf(vent, density);
  if (streams.length === 0) return page.words.roles[doing(vent)];
  return streams.map((s) => (s.out ? 'out ' : 'in ') + flowText(s.flow)).join(', ');
}

/** The sign of what a vent does, and its flows. */
function flowCell(page, vent, density) {
  return el(
      'span', {class: roleClass(vent)}, page.drawings.sign(doing(vent)), flowWords(page, vent, density));
}

/** The sign of a role, and its words. */
function roleOnly(page, role) {
  return el(
      'span', {class: 'together role-' + role}, page.drawings.sign(role),
      el('span', {class: 'role-name'}, page.words.roles[role] || role));
}

/** Sign and words of what a vent does, for a table. */
function roleCell(page, vent) {
  const firm = vent.firm === false && !vent.leak ? ' (close call)' : '';
  const passing = vent.passing ? ' (in passing: for less than 2° of turning)' : '';
  return el('span', {}, roleOnly(page, doing(vent)), firm, passing);
}
