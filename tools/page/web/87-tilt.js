// The tilt control: turns the device and moves the arrows.

/**
 * Where solutions at an angle come from. Here: the angles that the program solved and put into the results.
 * `angles`: the curves of the chart stand on these, in degrees; `range`: what the slider offers, {min, max,
 * step}; `valueOf` and `angleOf` go from an angle to the slider and back; `solveAt(angle)` gives what a point
 * of a sweep has. The solver within the page offers the same.
 */
function solvedSweep(sweep, why) {
  const solved = sweep.points.filter((p) => p.solved), angles = solved.map((p) => p.angle_deg);
  const nearest = (angle) => solved.reduce(
      (best, p) => (Math.abs(p.angle_deg - angle) < Math.abs(best.angle_deg - angle) ? p : best));
  return {
    angles,
    range: {min: 0, max: angles.length - 1, step: 1},
    valueOf: (angle) => angles.indexOf(nearest(angle).angle_deg),
    angleOf: (value) => angles[value],
    source: why ? `solved beforehand at these angles; ${why}` : 'solved beforehand at these angles',
    curve: solved,
    solveAt: nearest
  };
}

/** Where the device can be turned to while its solver runs here: once around. */
function rangeOf(angles) {
  const min = angles.length ? Math.ceil(Math.min(...angles)) : 0;
  return {min, max: Math.max(min + 360, Math.floor(Math.max(...angles))), step: 1};
}

/** Solves as the slider moves: a condition by its place in the model, turned about an axis. */
function solvedLive(solver, sweep, condition, axis) {
  const range = rangeOf(sweep.points.map((p) => p.angle_deg)), every = 5;
  const solveAt = (angle) => solver.turned(condition, axis, angle), curve = [];
  for (let angle = range.min; angle <= range.max; angle += every) curve.push(solveAt(angle));
  const solved = curve.filter((p) => p.solved);
  return {
    angles: solved.map((p) => p.angle_deg),
    range,
    valueOf: (angle) => angle,
    angleOf: (value) => value,
    source: 'solved in this page as you turn, by the program\u2019s own solver, with the values as written',
    curve: solved,
    solveAt
  };
}

function axisWord(axis) {
  const names = ['x, the axis to the right', 'y, the axis to the rear', 'z, the axis upwards'];
  const largest = axis.map(Math.abs).indexOf(Math.max(...axis.map(Math.abs)));
  return Math.abs(Math.abs(axis[largest]) - 1) < 1e-9 ?
      'about ' + names[largest] :
      `about (${axis.map((a) => significant(a)).join(', ')})`;
}

/** Net flow of each vent over the angle. Drawn once; `move` sets the stroke at the angle shown. */
function sweepChart(page, axis, curve, figure) {
  const {device} = page.results;
  const series = device.vents
                     .map((v, i) => ({
                            name: v.name,
                            leak: v.leak,
                            values: curve.map((p) => {
                              const r = p.vents[i];
                              return 1000 * (r.inflow_kg_s - r.outflow_kg_s) / p.room_density_kg_m3;
                            })
                          }))
                     .filter((s) => !s.leak);
  const largest = Math.max(...series.flatMap((s) => s.values.map(Math.abs)));
  const unit = largest < 0.1 ? 'mL/s' : 'L/s';
  if (unit === 'mL/s')
    series.forEach((s) => {
      s.values = s.values.map((v) => 1000 * v);
    });
  let current = curve[0].angle_deg, chart = null;
  page.onResize(figure, (width) => {
    chart = lineChart({
      width: Math.min(width, 1000),
      height: 300,
      xs: curve.map((p) => p.angle_deg),
      xName: 'angle ' + axisWord(axis),
      yName: `net flow, ${unit}: up is in, down is out`,
      series,
      current,
      label: 'Net flow of each vent against the angle; the table beside the device has the numbers.'
    });
    return [chart];
  });
  return (angle) => {
    current = angle;
    if (chart) moveCurrent(chart, angle);
  };
}

function sweepTable(page, sweep) {
  const vents = page.results.device.vents.map((v, i) => ({v, i})).filter(({v}) => !v.leak);
  const rows = sweep.points.map(
      (p) =>
          [degrees(p.angle_deg),
           ...vents.map(
               ({i}) =>
                   (p.solved ? el('span', {class: roleClass(p.vents[i])}, inlineMark(doing(p.vents[i])),
                                  flowWords(p.vents[i], p.room_density_kg_m3)) :
                               'no solution'))]);
  return folded(
      'All angles as a table',
      table(
          `Each vent at each angle of ${sweep.name}`,
          [{head: 'angle'}, ...vents.map(({v}) => ({head: nameOf(v.name)}))], rows));
}
