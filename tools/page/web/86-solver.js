// The solver within the page: the program's own, compiled to WebAssembly. It solves a condition at any angle.

/** Bytes of base64. */
function bytesOf(text) {
  return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
}

/** What the solver asks of its surroundings: nothing but a way to stop. The rest is never called. */
function surroundingsOf(module, textAt) {
  const imports = {};
  for (const {module: from, name} of WebAssembly.Module.imports(module)) {
    (imports[from] ??= {})[name] = () => 0;
  }
  imports.page.stopped = (words) => {
    throw new Error(textAt(words));
  };
  imports.wasi_snapshot_preview1.proc_exit = () => {
    throw new Error('the solver ended');
  };
  return imports;
}

/** The solver, ready for one model. After a fault it is not to be asked again. */
class Solver {
  constructor(exports, model) {
    this.exports = exports;
    const bytes = new TextEncoder().encode(JSON.stringify(model)), room = exports.room(bytes.length);
    new Uint8Array(exports.memory.buffer, room, bytes.length).set(bytes);
    this.session = exports.open(room, bytes.length);
    exports.free_room(room);
  }

  /** Compiles and starts it; rejects where that can't be done. */
  static async start(base64, model) {
    const module = await WebAssembly.compile(bytesOf(base64));
    let memory = null;
    const textAt = (at) => {
      const bytes = new Uint8Array(memory.buffer, at);
      return new TextDecoder().decode(bytes.subarray(0, bytes.indexOf(0)));
    };
    const {exports} = await WebAssembly.instantiate(module, surroundingsOf(module, textAt));
    memory = exports.memory;
    exports._initialize();
    return new Solver(exports, model);
  }

  /** A condition by its place in the model, turned about an axis [deg]: what a point of a sweep has. */
  turned(condition, axis, angle) {
    const size = this.exports.turned(this.session, condition, ...axis, angle);
    return JSON.parse(new TextDecoder().decode(
        new Uint8Array(this.exports.memory.buffer, this.exports.answer(this.session), size)));
  }
}
