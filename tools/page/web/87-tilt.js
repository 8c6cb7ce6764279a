// The tilt control: turns the device and moves the arrows.

/**
 * Where solutions at an angle come from. Here: the angles that the program solved and put into the results.
 * `angles`: the curves of the chart stand on these, in degrees; `range`: what the slider offers, {min, max,
 * step}; `valueOf` and `angleOf` go from an angle to the slider and back; `solveAt(angle)` gives what a point
 * of a sweep has. The solver within the page offers the same.
 */
function solvedSweep(sweep, why) {
  const solved = sweep.points.filter((p) => p.solved), drawn = solved.filter((p) => p.drawn);
  const offered = drawn.length ? drawn : solved, angles = offered.map((p) => p.angle_deg);
  const nearest = (angle) => offered.reduce(
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

/** A sweep with its points as results hold them: the page carries a list of values a vent. */
function unpackedSweep(sweep, vents) {
  const named = (values) => sweep.fields.map((field, k) => [field, values[k]]);
  const vent = (values, i) => ({vent: vents[i].name, leak: vents[i].leak, ...Object.fromEntries(named(values))});
  return {...sweep, points: sweep.points.map((p) => (p.solved ? {...p, vents: p.vents.map(vent)} : p))};
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
                              return units.flow.of((r.inflow_kg_s - r.outflow_kg_s) / p.room_density_kg_m3);
                            })
                          }))
                     .filter((s) => !s.leak);
  let current = curve[0].angle_deg, chart = null;
  page.onResize(figure, (width) => {
    chart = lineChart({
      width: Math.min(width, 1000),
      height: 300,
      xs: curve.map((p) => p.angle_deg),
      xName: 'angle ' + axisWord(axis),
      yName: `net flow, ${units.flow.name}: up is in, down is out`,
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
               ({i}) => (p.solved ? flowCell(page, p.vents[i], p.room_density_kg_m3) : 'no solution'))]);
  const all = sweep.points.length === sweep.of;
  return folded(
      all ? 'All angles as a table' : `${sweep.points.length} of ${sweep.of} angles as a table`,
      table(
          all ? `Each vent at each angle of ${sweep.name}` :
                `Each vent at ${sweep.points.length} of the ${sweep.of} angles of ${sweep.name}; none at which ` +
                  'a vent changes what it does is left out', ['angle', ...vents.map(({v}) => (nameOf(v.name)))],
          rows));
}

/** A list to choose from, with its label. */
function choice(label, words, chosen, change) {
  const select = el('select', {}, words.map((w, i) => el('option', {value: i}, shown(w, 60))));
  select.value = chosen;
  select.addEventListener('change', () => change(Number(select.value)));
  return el('label', {}, label + ' ', select);
}

const AXES = [[0, 1, 0], [1, 0, 0]];
const sameAxis = (a, b) => a.every((v, i) => Math.abs(v - b[i]) < 1e-9);

/**
 * One tilt control: slider, standing device, table, chart. `use(from)` changes where its solutions come from;
 * `solveWith(solver)` lets the reader choose condition and axis as well.
 */
class TiltBlock {
  constructor(page, sweep, number) {
    Object.assign(this, {page, sweep, number, condition: sweep.condition, axis: sweep.axis});
    const id = 'tilt-' + number;
    this.input = el('input', {type: 'range', id, 'data-sweep': shown(sweep.name, 200)});
    this.output = el('output', {for: id
    });
    this.source = el('span', {class: 'small quiet', 'data-source': true});
    this.choices = el('div', {class: 'control'});
    this.figure = el('div', {});
    this.chart = el('figure', {});
    this.words = el('div', {'aria-live': 'polite'});
    this.control = el('div', {class: 'control'}, el('label', {for: id
                      }, 'Turn the device '), this.output, el('br', {}), this.input, ' ', this.source);
    this.input.addEventListener('input', () => this.show());
    this.input.addEventListener('keydown', (event) => this.leap(event));
    this.block =
        el('div', {class: 'tilt'},
           el('h3', {}, nameOf(sweep.name),
              sweep.points.length ? [' (from ', nameOf(sweep.condition), ')'] : null),
           this.choices, this.control, el('div', {class: 'beside flows'}, this.figure, this.words), this.chart,
           sweep.points.length ? sweepTable(page, sweep) : null);
  }

  /** Without a solver: the angles solved beforehand, or a word where there are none. */
  fallBack(why) {
    this.choices.replaceChildren();
    Object.assign(this, {condition: this.sweep.condition, axis: this.sweep.axis});
    if (this.sweep.points.length) {
      this.use(solvedSweep(this.sweep, why));
    } else {
      this.block.replaceChildren(el('p', {'data-source': true}, `The device can't be turned here: ${why}.`));
    }
  }

  solveWith(solver) {
    const {conditions} = this.page.results.model, names = conditions.map((c) => c.name);
    const axes = [this.axis, ...AXES.filter((a) => !sameAxis(a, this.axis))];
    const start = () => {
      const from = solvedLive(solver, this.sweep, names.indexOf(this.condition), this.axis);
      this.use({...from, solveAt: (angle) => this.guarded(() => from.solveAt(angle))});
    };
    const change = (what) => this.guarded(() => {
      Object.assign(this, what);
      start();
    });
    start();
    this.choices.replaceChildren(
        choice(
            'Surface and load as in', names, names.indexOf(this.condition),
            (i) => change({condition: names[i]})),
        ' ', choice('turned', axes.map(axisWord), 0, (i) => change({axis: axes[i]})));
  }

  /** Does what needs the solver; after a fault of it there are only the solved angles. */
  guarded(action) {
    try {
      return action();
    } catch {
      this.page.drawings.solver = null;
      this.fallBack('the solver of this page has stopped');
      return null;
    }
  }

  use(from) {
    const angle = this.from ? this.from.angleOf(Number(this.input.value)) : from.angles[0] || 0;
    this.from = from;
    const {solver} = this.page.drawings;
    this.alike = {axis: this.axis, ...(solver ? {largest_flow_m3_s: solver.largest(from.curve)} : {})};
    for (const [name, value] of Object.entries(from.range)) this.input[name] = value;
    this.input.value = from.valueOf(angle);
    this.source.textContent = from.source;
    this.chart.replaceChildren();
    this.move = from.curve.length ? sweepChart(this.page, this.axis, from.curve, this.chart) : () => {};
    this.show();
  }

  /**
   * Page up and page down go from one angle of the sweep to the next; arrow keys by the slider's own step.
   */
  leap(event) {
    const way = {PageUp: 1, PageDown: -1}[event.key], angles = this.sweep.points.map((p) => p.angle_deg);
    if (!way || !angles.length) return;
    event.preventDefault();
    const now = this.from.angleOf(Number(this.input.value));
    const next = angles.filter((a) => way * (a - now) > 1e-9).map((a) => this.from.valueOf(a));
    if (next.length) this.input.value = way > 0 ? Math.min(...next) : Math.max(...next);
    this.show();
  }

  show() {
    const point = this.from.solveAt(this.from.angleOf(Number(this.input.value)));
    if (!point) return;  // it has fallen back, and shown that
    const {page} = this, turned = degrees(point.angle_deg), about = axisWord(this.axis);
    this.output.textContent = turned;
    this.input.setAttribute('aria-valuetext', turned);
    this.move(point.angle_deg);
    if (!point.solved) {
      this.figure.replaceChildren();
      this.words.replaceChildren(
          paragraph(`No solution at ${turned}: ${shown(point.reason, 400)}`, 'warning'));
      page.fillNew();
      return;
    }
    const caption = `${this.sweep.name}: ${shown(this.condition, 60)} turned ${turned} ${about}`;
    const key = `sweep ${this.number} ${this.sweep.points.indexOf(point)}`;
    page.onResize(
        this.figure,
        (width) => [standingFigure(page, this.condition, point, width, key, caption, this.alike)]);
    this.words.replaceChildren(ventTable(page, point, `What each vent does at ${turned}`));
    page.fillNew();
  }
}

/** Starts the solver for the blocks; says whether it did. */
async function solveLive(page, blocks) {
  const {model} = page.results;
  const fall = (why) => {
    blocks.forEach((b) => b.fallBack(why));
    return false;
  };
  if (page.notDrawn) return fall(page.notDrawn);
  if (typeof SOLVER_BYTES === 'undefined') return fall('this page was made without its solver');
  try {
    const solver = await Solver.start(SOLVER_BYTES, model);
    page.drawings.solver = solver;
    blocks.forEach((b) => b.solveWith(solver));
    page.redraw();
    const place = (name) => model.conditions.findIndex((c) => c.name === name);
    // For whoever wants to check a number: condition by name, axis of the device, angle in degrees.
    window.tuft = {turned: (condition, axis, angle) => solver.turned(place(condition), axis, angle)};
    return true;
  } catch {
    page.drawings.solver = null;
    return fall('this browser does not run the solver of this page');
  }
}

/** What is turned: the sweeps of the case; where it has none, its first condition about the long way. */
function turnsOf(results) {
  if (results.sweeps.length || !results.model || !results.conditions.length) return results.sweeps;
  return [{name: 'Held at any angle', condition: results.conditions[0].name, axis: AXES[0], points: []}];
}

function tiltSection(page) {
  const root = document.documentElement, turns = turnsOf(page.results);
  root.dataset.solver = 'none';
  if (!turns.length) return null;
  const blocks = [], parts = turns.map((sweep, i) => {
    if (sweep.points.length && !sweep.points.some((p) => p.solved))
      return el('p', {}, `${shown(sweep.name)}: no angle has a solution.`);
    blocks.push(new TiltBlock(page, sweep, i));
    return blocks[blocks.length - 1].block;
  });
  root.dataset.solver = 'starting';
  page.later(() => {
    blocks.filter((b) => b.sweep.points.length).forEach((b) => b.use(solvedSweep(b.sweep)));
    // After the page is there to be read.
    setTimeout(async () => {
      root.dataset.solver = (await solveLive(page, blocks)) ? 'live' : 'none';
    });
  });
  return section('tilt', 'Turned', ...parts);
}
