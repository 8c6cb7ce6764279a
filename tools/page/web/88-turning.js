// The tilt control itself, and how it comes by its solver.

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
    Object.assign(this, {page, sweep, condition: sweep.condition, axis: sweep.axis});
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
           this.choices, this.control, el('div', {class: 'beside'}, this.figure, this.words), this.chart,
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
      this.fallBack('the solver of this page has stopped');
      return null;
    }
  }

  use(from) {
    const angle = this.from ? this.from.angleOf(Number(this.input.value)) : from.angles[0] || 0;
    this.from = from;
    this.alike = {poses: from.curve.map((p) => p.pose_to_world), results: from.curve};
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
    const condition = page.results.conditions.find((c) => c.name === this.condition);
    const setting = {
      pose_to_world: point.pose_to_world,
      support_kind: condition ? condition.support_kind : 'air',
      lid_deg: condition ? condition.lid_deg : null
    };
    const caption = `${this.sweep.name}: ${shown(this.condition, 60)} turned ${turned} ${about}`;
    page.onResize(
        this.figure,
        (width) => [standingFigure(page.results.device, point, setting, width, caption, this.alike)]);
    this.words.replaceChildren(ventTable(page, setting, point, `What each vent does at ${turned}`));
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
  if (!model) return fall('these results have no model to solve');
  if (typeof SOLVER_BYTES === 'undefined') return fall('this page was made without its solver');
  try {
    const solver = await Solver.start(SOLVER_BYTES, model);
    blocks.forEach((b) => b.solveWith(solver));
    const place = (name) => model.conditions.findIndex((c) => c.name === name);
    // For whoever wants to check a number: condition by name, axis of the device, angle in degrees.
    window.tuft = {turned: (condition, axis, angle) => solver.turned(place(condition), axis, angle)};
    return true;
  } catch {
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
