// The solver within the page: the program's own, compiled to WebAssembly. It solves a condition at any angle.

/** Bytes of base64, inflated. */
async function bytesOf(text) {
  const packed = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate'));
  return new Response(stream).arrayBuffer();
}

/**
 * What the solver asks of its surroundings: a way to stop, and what `page` has for it. The rest is never
 * called.
 */
function surroundingsOf(module, textAt, page) {
  const imports = {};
  for (const {module: from, name} of WebAssembly.Module.imports(module)) {
    (imports[from] ??= {})[name] = () => 0;
  }
  imports.page.stopped = (words) => {
    throw new Error(textAt(words));
  };
  Object.assign(imports.page, page);
  imports.wasi_snapshot_preview1.proc_exit = () => {
    throw new Error('the solver ended');
  };
  return imports;
}

/**
 * What a module of WebAssembly gives, compiled and started; rejects where that can't be done. `page`: functions
 * that it may call.
 */
async function startedModule(bytes, page = {}) {
  const module = await WebAssembly.compile(bytes);
  let memory = null;
  const textAt = (at) => {
    const words = new Uint8Array(memory.buffer, at);
    return new TextDecoder().decode(words.subarray(0, words.indexOf(0)));
  };
  const {exports} = await WebAssembly.instantiate(module, surroundingsOf(module, textAt, page));
  memory = exports.memory;
  exports._initialize();
  return exports;
}

/** The program's code within a page, by what its module exports. After a fault it is not to be asked again. */
class Engine {
  constructor(exports) {
    this.exports = exports;
  }

  /** What `ask` makes of the place and the size of a value as JSON. */
  given(value, ask) {
    const bytes = new TextEncoder().encode(JSON.stringify(value)), room = this.exports.room(bytes.length);
    new Uint8Array(this.exports.memory.buffer, room, bytes.length).set(bytes);
    const answer = ask(room, bytes.length);
    this.exports.free_room(room);
    return answer;
  }
}

/** The solver, ready for one model. */
class Solver extends Engine {
  constructor(exports, model) {
    super(exports);
    this.session = this.given(model, (at, size) => exports.open(at, size));
  }

  answer(size) {
    return new TextDecoder().decode(
        new Uint8Array(this.exports.memory.buffer, this.exports.answer(this.session), size));
  }

  /** Compiles and starts it; rejects where that can't be done. */
  static async start(base64, model) {
    return new Solver(await startedModule(await bytesOf(base64)), model);
  }

  /** A condition by its place in the model, turned about an axis [deg]: what a point of a sweep has. */
  turned(condition, axis, angle) {
    return JSON.parse(this.answer(this.exports.turned(this.session, condition, ...axis, angle)));
  }

  /** A drawing as SVG: tools/page/engine.hpp says what a request holds. */
  drawn(request) {
    return this.answer(this.given(request, (at, size) => this.exports.drawn(this.session, at, size)));
  }

  /** The largest flow that an arrow is drawn for in solutions [m3/s]. */
  largest(solutions) {
    return this.given(
        solutions.map(({room_density_kg_m3, vents}) => ({room_density_kg_m3, vents})),
        (at, size) => this.exports.largest(this.session, at, size));
  }
}

// Drawings of the device. All are the program's own: made by the solver within the page, as wide as there is
// room, or else those that were made with the page.

/** An SVG text as an element. */
function parsedSvg(text) {
  return document.importNode(new DOMParser().parseFromString(text, 'image/svg+xml').documentElement, true);
}

class Drawings {
  /** `made`: pairs of a first line and a number of lines, by key. */
  constructor(made) {
    this.made = made;
    this.lines = document.getElementById('drawings').textContent.slice(1).split('\n');
    this.signs = new Map();
    this.solver = null;
  }

  /** One that was made with the page; null when there is none. */
  madeBefore(key) {
    const stretches = this.made[key], lines = [];
    if (!stretches) return null;
    for (let k = 0; k < stretches.length; k += 2)
      lines.push(...this.lines.slice(stretches[k], stretches[k] + stretches[k + 1]));
    return parsedSvg(lines.join(''));
  }

  /** The drawing that a request asks for (tools/page/engine.hpp), or the one of a key. Null without both. */
  draw(request, key) {
    if (this.solver) {
      try {
        return parsedSvg(this.solver.drawn(request));
      } catch {
        this.solver = null;  // after a fault it is not to be asked again
      }
    }
    const svg = this.madeBefore(key);
    // What was not made for this width keeps a size that can be read, and is moved sideways.
    return svg &&
        hinted(el('div', {class: 'picture-frame', tabindex: 0, role: 'region', 'aria-label': 'drawing'}, svg));
  }

  /** The sign of a role, for a line of text. The words stand beside it, so it says nothing of its own. */
  sign(role) {
    if (!this.signs.has(role)) {
      const svg = this.madeBefore('sign ' + role);
      if (!svg) return null;
      for (const name of ['role', 'aria-label', 'width', 'height']) svg.removeAttribute(name);
      this.signs.set(role, fill(svg, {class: 'tuft sign-inline', 'aria-hidden': 'true'}, []));
    }
    return this.signs.get(role).cloneNode(true);
  }
}

/** A drawing as a figure of a class, with its caption; in words where it can't be drawn. */
function drawnFigure(page, kind, request, key, caption) {
  const {solution, width} = request, {pose_to_world, room_density_kg_m3, vents} = solution;
  const drawn = page.drawings.draw(
      {...request, width: Math.max(width, 300), solution: {pose_to_world, room_density_kg_m3, vents}}, key);
  if (!drawn) return paragraph(`No drawing: ${page.notDrawn || 'the solver of this page has stopped'}.`);
  return el('figure', {class: kind}, drawn, el('figcaption', {}, caption));
}

/** The device as it stands in the room. */
function standingFigure(page, condition, solution, width, key, caption, alike = {}) {
  const title = shown(caption, 200);
  return drawnFigure(
      page, 'standing', {view: 'standing', condition, solution, title, width, ...alike}, key, title + '.');
}

/** The device true to scale from six sides. */
function sidesFigure(page, condition, solution, width, key) {
  return drawnFigure(
      page, 'drawing', {view: 'sides', condition, solution, title: shown(condition, 200), width}, key,
      'All views have one scale; the ring in each shows the direction of gravity.');
}
