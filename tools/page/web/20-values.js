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

/** A volume flow [m3/s] in L/s, or mL/s below 0.1 L/s. */
function flowText(flow) {
  const litres = 1000 * flow;
  if (Math.abs(litres) >= 0.1) return significant(litres, 3, 3) + ' L/s';
  const small = significant(1000 * litres, 3, 3);
  return small === '0' ? '0 L/s' : small + ' mL/s';
}

const celsius = (kelvin) => (kelvin - 273.15).toFixed(1);
const temperatureText = (kelvin) => celsius(kelvin) + ' °C';
/**
 * What is left of a balance that should close: "closed" below what the solver leaves, else by how much it is
 * open.
 */
const closureText = (rest) =>
    (Math.abs(rest) < 1e-9 ? 'closed' : 'open by ' + Math.abs(rest).toExponential(0));

const percentText = (share) => significant(100 * share, 100 * share < 10 ? 2 : 3, 1) + ' %';
const speedText = (speed) => significant(100 * speed, 3, 2) + ' cm/s';
const pressureText = (pascal) => {
  const small = Math.abs(pascal) < 0.1 && pascal !== 0;
  return (pascal > 0 ? '+' : '') + significant(small ? 1000 * pascal : pascal, 3, small ? 1 : 2) +
      (small ? ' mPa' : ' Pa');
};
const millimetres = (metres) => String(Number(significant(1000 * metres, 4, 1)));
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

/** "in 44 mL/s, out 32 mL/s"; or "next to nothing". */
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
