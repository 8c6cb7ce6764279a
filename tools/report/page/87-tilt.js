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
function rangeOf(sweep) {
  const angles = sweep.points.map((p) => p.angle_deg), min = Math.ceil(Math.min(...angles));
  return {min, max: Math.max(min + 360, Math.floor(Math.max(...angles))), step: 1};
}

/** Solves as the slider moves; `condition` is the place of the sweep's condition in the model. */
function solvedLive(solver, sweep, condition) {
  const range = rangeOf(sweep), angles = [], every = 5;
  for (let angle = range.min; angle <= range.max; angle += every) angles.push(angle);
  const solveAt = (angle) => solver.turned(condition, sweep.axis, angle);
  const curve = angles.map(solveAt).filter((p) => p.solved);
  return {
    angles: curve.map((p) => p.angle_deg),
    range,
    valueOf: (angle) => angle,
    angleOf: (value) => value,
    source: 'solved in this page as you turn, by the program\u2019s own solver',
    curve,
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
function sweepChart(page, sweep, curve, figure) {
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
      xName: 'angle ' + axisWord(sweep.axis),
      yName: `net flow, ${unit}: up is in, down is out`,
      series,
      current,
      label: `Net flow of each vent against the angle; the numbers are in the table of all angles.`
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

/**
 * One tilt control: slider, standing device, table, chart. `use(from)` changes where its solutions come
 * from.
 */
class TiltBlock {
  constructor(page, sweep) {
    Object.assign(this, {page, sweep});
    this.condition = page.results.conditions.find((c) => c.name === sweep.condition);
    const id = 'tilt-' + page.results.sweeps.indexOf(sweep);
    this.input = el('input', {type: 'range', id, 'data-sweep': shown(sweep.name, 200)});
    this.output = el('output', {for: id
    });
    this.source = el('span', {class: 'small quiet', 'data-source': true});
    this.figure = el('div', {});
    this.chart = el('figure', {});
    this.words = el('div', {'aria-live': 'polite'});
    this.input.addEventListener('input', () => this.show());
    this.input.addEventListener('keydown', (event) => this.leap(event));
    this.block =
        el('div', {class: 'tilt'},
           el('h3', {}, nameOf(sweep.name),
              this.condition ? [' (from ', nameOf(this.condition.name), ')'] : null),
           el('div', {class: 'control'},
              el('label',
                 {for: id
                 },
                 'Turn the device '),
              this.output, el('br', {}), this.input, ' ', this.source),
           el('div', {class: 'beside'}, this.figure, this.words), this.chart, sweepTable(page, sweep));
  }

  use(from) {
    const angle = this.from ? this.from.angleOf(Number(this.input.value)) : from.angles[0];
    this.from = from;
    this.alike = {poses: from.curve.map((p) => p.pose_to_world), results: from.curve};
    for (const [name, value] of Object.entries(from.range)) this.input[name] = value;
    this.input.value = from.valueOf(angle);
    this.source.textContent = from.source;
    this.move = sweepChart(this.page, this.sweep, from.curve, this.chart);
    this.show();
  }

  /**
   * Page up and page down go from one angle of the sweep to the next; arrow keys by the slider's own step.
   */
  leap(event) {
    const way = {PageUp: 1, PageDown: -1}[event.key];
    if (!way) return;
    event.preventDefault();
    const now = this.from.angleOf(Number(this.input.value)),
          angles = this.sweep.points.map((p) => p.angle_deg);
    const next = angles.filter((a) => way * (a - now) > 1e-9).map((a) => this.from.valueOf(a));
    if (next.length) this.input.value = way > 0 ? Math.min(...next) : Math.max(...next);
    this.show();
  }

  show() {
    const {page, sweep} = this, point = this.from.solveAt(this.from.angleOf(Number(this.input.value)));
    const turned = degrees(point.angle_deg);
    const setting = {
      pose_to_world: point.pose_to_world,
      support_kind: 'air',
      lid_deg: this.condition ? this.condition.lid_deg : null
    };
    this.output.textContent = turned;
    this.input.setAttribute('aria-valuetext', turned);
    this.move(point.angle_deg);
    if (!point.solved) {
      this.words.replaceChildren(
          paragraph(`No solution at ${turned}: ${shown(point.reason, 400)}`, 'warning'));
      this.figure.replaceChildren();
      return;
    }
    const caption = `${sweep.name}: turned ${turned} ${axisWord(sweep.axis)}`;
    page.onResize(
        this.figure,
        (width) => [standingFigure(page.results.device, point, setting, width, caption, this.alike)]);
    this.words.replaceChildren(ventTable(page, setting, point, `What each vent does at ${turned}`));
    page.fillNew();
  }
}

/** Starts the solver for the blocks; where it does not start, or ends, they keep to the solved angles. */
async function solveLive(page, blocks) {
  const {model} = page.results;
  const fall = (why) => blocks.forEach((b) => b.use(solvedSweep(b.sweep, why)));
  if (typeof SOLVER_BYTES === 'undefined' || !model) return false;
  try {
    const solver = await Solver.start(SOLVER_BYTES, model);
    for (const block of blocks) {
      const condition = model.conditions.findIndex((c) => c.name === block.sweep.condition);
      const from = solvedLive(solver, block.sweep, condition);
      block.use({
        ...from,
        solveAt: (angle) => {
          try {
            return from.solveAt(angle);
          } catch {
            fall('the solver of this page has stopped');
            return block.from.solveAt(angle);
          }
        }
      });
    }
    return true;
  } catch {
    fall('this browser does not run the solver of this page');
    return false;
  }
}

function tiltSection(page) {
  const {sweeps} = page.results, root = document.documentElement;
  if (!sweeps.length) {
    root.dataset.solver = 'none';
    return null;
  }
  const blocks = [], parts = sweeps.map((sweep) => {
    if (!sweep.points.some((p) => p.solved))
      return el('p', {}, `${shown(sweep.name)}: no angle has a solution.`);
    blocks.push(new TiltBlock(page, sweep));
    return blocks[blocks.length - 1].block;
  });
  page.later(() => {
    blocks.forEach((b) => b.use(solvedSweep(b.sweep)));
    // After the page is there to be read.
    setTimeout(async () => {
      root.dataset.solver = blocks.length && (await solveLive(page, blocks)) ? 'live' : 'none';
    });
  });
  return section('tilt', 'Turned', ...parts);
}
