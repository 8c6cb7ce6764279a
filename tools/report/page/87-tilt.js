// The tilt control: turns the device and moves the arrows.

/**
 * Where solutions at an angle come from. Here: the angles that the program solved and put into the results.
 * `angles` are those that can be asked for, in degrees; `solveAt(angle)` gives what a condition has, and
 * `pose_to_world`. A solver within the page offers the same two.
 */
function solvedSweep(sweep) {
  const solved = sweep.points.filter((p) => p.solved);
  return {
    angles: solved.map((p) => p.angle_deg),
    source: 'solved beforehand at these angles',
    solveAt: (angle) => solved.reduce(
        (best, p) => (Math.abs(p.angle_deg - angle) < Math.abs(best.angle_deg - angle) ? p : best))
  };
}

function axisWord(axis) {
  const names = ['x, the axis to the right', 'y, the axis to the rear', 'z, the axis upwards'];
  const largest = axis.map(Math.abs).indexOf(Math.max(...axis.map(Math.abs)));
  return Math.abs(Math.abs(axis[largest]) - 1) < 1e-9 ?
      'about ' + names[largest] :
      `about (${axis.map((a) => significant(a)).join(', ')})`;
}

function sweepChart(page, sweep, angles, current) {
  const {device} = page.results, solved = sweep.points.filter((p) => p.solved);
  const series = device.vents
                     .map((v, i) => ({
                            name: v.name,
                            leak: v.leak,
                            values: solved.map((p) => {
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
  return (width) => [lineChart({
           width: Math.min(width, 1000),
           height: 300,
           xs: angles,
           xName: 'angle ' + axisWord(sweep.axis),
           yName: `net flow, ${unit}: up is in, down is out`,
           series,
           current,
           label: `Net flow of each vent against the angle; the numbers are in the table of all angles.`
         })];
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

function tiltBlock(page, sweep) {
  const from = solvedSweep(sweep);
  if (!from.angles.length) return el('p', {}, `${shown(sweep.name)}: no angle has a solution.`);
  const condition = page.results.conditions.find((c) => c.name === sweep.condition);
  const id = 'tilt-' + page.results.sweeps.indexOf(sweep);
  const input = el('input', {
    type: 'range',
    id,
    min: 0,
    max: from.angles.length - 1,
    step: 1,
    value: 0,
    'data-sweep': shown(sweep.name, 200)
  });
  const output = el('output', {for: id
  }), figure = el('div', {}), chart = el('figure', {}), words = el('div', {'aria-live': 'polite'});
  const all = from.angles.map((angle) => from.solveAt(angle));
  const alike = {poses: all.map((p) => p.pose_to_world), results: all};
  const show = () => {
    const angle = from.angles[Number(input.value)], point = from.solveAt(angle);
    const setting = {
      pose_to_world: point.pose_to_world,
      support_kind: 'air',
      lid_deg: condition ? condition.lid_deg : null
    };
    output.textContent = degrees(point.angle_deg);
    input.setAttribute('aria-valuetext', degrees(point.angle_deg));
    page.onResize(
        figure,
        (width) => [standingFigure(
            page.results.device, point, setting, width,
            `${sweep.name}: turned ${degrees(point.angle_deg)} ${axisWord(sweep.axis)}`, alike)]);
    page.onResize(chart, sweepChart(page, sweep, from.angles, point.angle_deg));
    words.replaceChildren(
        ventTable(page, setting, point, `What each vent does at ${degrees(point.angle_deg)}`));
    page.fillNew();
  };
  input.addEventListener('input', show);
  const block =
      el('div', {class: 'tilt'},
         el('h3', {}, nameOf(sweep.name), condition ? [' (from ', nameOf(condition.name), ')'] : null),
         el('div', {class: 'control'},
            el('label',
               {for: id
               },
               'Turn the device '),
            output, el('br', {}), input, el('span', {class: 'small quiet'}, ' ' + from.source)),
         el('div', {class: 'beside'}, figure, words), chart, sweepTable(page, sweep));
  page.later(show);
  return block;
}

function tiltSection(page) {
  if (!page.results.sweeps.length) return null;
  return section('tilt', 'Turned', ...page.results.sweeps.map((s) => tiltBlock(page, s)));
}
