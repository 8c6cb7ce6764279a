// Charts: lines over an angle, and temperatures beside their limits.

const DASHES = [null, '7 4', '2 3', '9 3 2 3', '5 2', '1 3', '12 4', '6 2 1 2'];

/** Middles of labels moved apart so that none overlaps, in order, within [low, high]. */
function spreadOut(wishes, height, low, high) {
  const order = wishes.map((at, i) => ({at, i})).sort((a, b) => a.at - b.at || a.i - b.i);
  let last = low - height / 2;
  for (const item of order) {
    item.at = Math.max(item.at, last + height);
    last = item.at;
  }
  let next = high + height / 2;
  for (const item of order.slice().reverse()) {
    item.at = Math.min(item.at, next - height);
    next = item.at;
  }
  const result = [];
  order.forEach((item) => {
    result[item.i] = item.at;
  });
  return result;
}

/** An empty chart with its words for those who do not see it. */
function chartOf(width, height, label) {
  return svg(
      'svg',
      {viewBox: `0 0 ${px(width)} ${height}`, width: px(width), height, role: 'img', 'aria-label': label});
}

function addLine(root, x1, y1, x2, y2, attributes) {
  root.append(svg('line', {x1: px(x1), y1: px(y1), x2: px(x2), y2: px(y2), ...attributes}));
}

function addText(root, x, y, words, size, attributes) {
  root.append(svg('text', {x: px(x), y: px(y), 'font-size': size, ...attributes}, words));
}

/** Path data through points, broken where a value is missing. */
function pathOf(xs, values, x, y) {
  let path = '', pen = 'M';
  values.forEach((v, k) => {
    if (v !== null) path += `${pen} ${px(x(xs[k]))} ${px(y(v))} `;
    pen = v === null ? 'M' : 'L';
  });
  return path || 'M 0 0';
}

/** Lines over an angle: series [{name, values}], a mark at `current`. */
function lineChart({width, height, xs, xName, yName, series, current, label}) {
  const narrow = width < 560, font = narrow ? 11.5 : 12.5;
  const names = series.map((s) => fitted(isolated(s.name, 40), narrow ? 84 : 150, font));
  const right = Math.max(...names.map((n) => textWidth(n, font))) + 34;
  const plot = {left: 50, right: width - right, top: 28, bottom: height - 40};
  const all = series.flatMap((s) => s.values).filter((v) => v !== null);
  const low = Math.min(0, ...all), high = Math.max(1e-9, ...all), pad = 0.05 * (high - low);
  const last = xs[xs.length - 1], span = last - xs[0];
  const x = (v) => plot.left + ((v - xs[0]) / (span || 1)) * (plot.right - plot.left);
  const y = (v) => plot.bottom - ((v - low + pad) / (high - low + 2 * pad)) * (plot.bottom - plot.top);
  const root = chartOf(width, height, label);
  const text = (at, words, anchor) =>
      addText(root, at[0], at[1], words, font, {'text-anchor': anchor, class: 'muted'});
  text([2, 14], yName, 'start');
  for (const v of ticks(low, high, 5).list) {
    addLine(root, plot.left, y(v), plot.right, y(v), {class: Math.abs(v) < 1e-12 ? 'axis' : 'gridline'});
    text([plot.left - 6, y(v) + 4], String(Number(v.toPrecision(6))), 'end');
  }
  const step = [5, 10, 15, 30, 45, 60, 90, 180].find((s) => span / s <= (narrow ? 4 : 8)) || 360;
  for (let v = Math.ceil(xs[0] / step) * step; v <= last + 1e-9; v += step) {
    addLine(root, x(v), plot.bottom, x(v), plot.bottom + 5, {class: 'axis'});
    text([x(v), plot.bottom + 18], v + '°', 'middle');
  }
  text([(plot.left + plot.right) / 2, height - 5], xName, 'middle');
  const ends = spreadOut(
      series.map((s) => y(s.values.filter((v) => v !== null).slice(-1)[0] || 0)), font * 1.3, plot.top,
      plot.bottom);
  series.forEach((s, i) => {
    const colour = `var(--s${(i % 8) + 1})`;
    const pen = {stroke: colour, 'stroke-width': 2, 'stroke-dasharray': DASHES[i % 8]};
    root.append(svg(
        'path', {d: pathOf(xs, s.values, x, y), fill: 'none', ...pen, 'data-series': shown(s.name, 200)}));
    addLine(root, plot.right + 4, ends[i], plot.right + 24, ends[i], pen);
    addText(root, plot.right + 28, ends[i] + 4, names[i], font, {style: `fill: ${colour}`});
  });
  if (current !== null && current !== undefined) {
    addLine(root, 0, plot.top, 0, plot.bottom, {class: 'limit', 'data-current': current});
    root.placeOf = x;
    moveCurrent(root, current);
  }
  return root;
}

/** Moves the mark of a chart of lines. */
function moveCurrent(chart, current) {
  const at = px(chart.placeOf(current));
  fill(chart.querySelector('[data-current]'), {x1: at, x2: at, 'data-current': current}, []);
}

/** Bars of temperature, in the page's unit, from the room's, with a stroke at each limit: [{name, value, limit, hidden}]. */
function temperatureChart(items, room, width, label) {
  const narrow = width < 560, font = 12.5, row = 30;
  const nameWidth =
      Math.min(narrow ? 110 : 190, Math.max(...items.map((i) => textWidth(isolated(i.name, 40), font))) + 4);
  const plot = {left: nameWidth + 8, right: width - (narrow ? 58 : 150), top: 26};
  const height = plot.top + row * items.length + 8;
  const high = Math.max(...items.map((i) => Math.max(i.value, i.limit || 0))) * 1.03;
  const low = Math.floor(Math.min(room, ...items.map((i) => i.value)) / 10) * 10;
  const x = (v) => plot.left + ((v - low) / (high - low)) * (plot.right - plot.left);
  const root = chartOf(width, height, label);
  for (const v of ticks(low, high, narrow ? 4 : 7).list) {
    addLine(root, x(v), plot.top - 4, x(v), height - 4, {class: 'gridline'});
    addText(root, x(v), plot.top - 9, `${v} ${units.temperature.name}`, 11.5, {'text-anchor': 'middle', class: 'muted'});
  }
  items.forEach((item, i) => {
    const y = plot.top + i * row, over = item.limit !== null && item.value > item.limit && !item.hidden;
    const name = fitted(isolated(item.name, 40), nameWidth, font);
    addText(root, plot.left - 8, y + 19, name, font, {'text-anchor': 'end'});
    root.append(svg('rect', {
      x: px(x(Math.min(room, item.value))),
      y: y + 7,
      width: px(Math.abs(x(item.value) - x(room)) + 0.5),
      height: 16,
      rx: 2,
      style: `fill: var(${over ? '--exhaust' : '--s7'})`,
      'fill-opacity': item.hidden ? 0.45 : 1,
      'data-value': item.value.toFixed(1)
    }));
    let words = item.value.toFixed(1) + (narrow ? '' : ' ' + units.temperature.name);
    if (item.limit !== null) {
      const at = x(item.limit);
      addLine(root, at, y + 3, at, y + 27, {class: 'limit', 'data-limit': item.limit.toFixed(1)});
      words += narrow ? ` / ${item.limit.toFixed(0)}` : `, limit ${item.limit.toFixed(0)} ${units.temperature.name}`;
    }
    addText(root, plot.right + 8, y + 19, words, narrow ? 11 : 12);
  });
  return root;
}
