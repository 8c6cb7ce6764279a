// Lengths as a person types them, and as they stand in a case file.

const LENGTH_UNITS = {
  mm: 1e-3,
  cm: 1e-2,
  dm: 1e-1,
  m: 1,
  um: 1e-6,
  µm: 1e-6,
  in: 0.0254,
  inch: 0.0254,
  '"': 0.0254,
  '″': 0.0254
};

/** "31,4 cm", "12.5", "½ in" as metres; null: no length. A bare number is in millimetres. */
function lengthOf(typed) {
  const match = /^\s*([-+−]?)\s*(\d+(?:[.,]\d*)?|[.,]\d+)\s*([a-zµ"″]*)\s*$/i.exec(String(typed));
  if (!match) return null;
  const unit = match[3] === '' ? LENGTH_UNITS.mm : LENGTH_UNITS[match[3]];
  if (!unit) return null;
  const value = Number(match[2].replace(',', '.')) * unit;
  return match[1] === '' || match[1] === '+' ? value : -value;
}

/** A length [m] as it is written: "31.4 mm", to a tenth of a millimetre at most. */
function mm(metres) {
  return millimetreNumber(metres) + ' mm';
}

function millimetreNumber(metres) {
  const tenths = Math.round(metres * 1e4);
  return String(tenths === 0 ? 0 : tenths / 10);
}

/**
 * What was typed into a field of some quantity as a case file has it: a decimal comma becomes a point, and a
 * number without a unit gets the field's. The rest is the reader's to judge.
 */
function asQuantity(typed, unit) {
  const text = typed.trim().replace(/(\d),(?=\d)/g, '$1.').replace(/(\d)\s*["″](?=\s|$)/g, '$1 in');
  return unit && /^[-+]?[\d.]+(\.\.[\d.]+)*$/.test(text) ? `${text} ${unit}` : text.replace(/(\d)(?=[a-zµ%°])/gi, '$1 ');
}
