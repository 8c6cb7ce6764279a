// The program's own code within the page: it reads the case, solves it and judges its claims.

class Board extends Engine {
  constructor(exports, units) {
    super(exports);
    this.session = this.given(units, (at, size) => exports.board(at, size));
  }

  answer(size) {
    return JSON.parse(new TextDecoder().decode(
        new Uint8Array(this.exports.memory.buffer, this.exports.board_answer(this.session), size)));
  }

  /** Reads a CaseText: tools/page/board.hpp says what the answer holds. */
  read(text, name) {
    const request = {name, text: text.text, events: text.events()};
    return this.answer(this.given(request, (at, size) => this.exports.board_read(this.session, at, size)));
  }

  /** A condition by its place, solved. */
  solved(condition) {
    return this.answer(this.exports.board_solved(this.session, condition));
  }

  judged() {
    return this.answer(this.exports.board_judged(this.session));
  }

  /** Hands over the pixels of a photo (ImageData) under a number. */
  givePhoto(number, {width, height, data}) {
    const at = this.exports.board_photo(this.session, number, width, height);
    new Uint8ClampedArray(this.exports.memory.buffer, at, data.length).set(data);
  }

  /** A photo laid on its face: pixels of four bytes; null where the case states no place for it. */
  straightened(request) {
    const at = this.given(request, (place, size) => this.exports.board_straightened(this.session, place, size));
    return at ? new Uint8ClampedArray(this.exports.memory.buffer, at, 4 * request.width * request.height).slice() : null;
  }

  /** Where corner cards in a photo say that the face is, and how much the lens bulges: {corners, found, bulge}. */
  cornersOf(request) {
    return this.answer(this.given(request, (at, size) => this.exports.board_corners(this.session, at, size)));
  }

  openArea(request) {
    return this.answer(this.given(request, (at, size) => this.exports.board_open_area(this.session, at, size)));
  }

  twoHoles(request) {
    return this.answer(this.given(request, (at, size) => this.exports.board_two_holes(this.session, at, size)));
  }
}

/** Compiles and starts the engine; rejects where that can't be done. `bytes`: of WebAssembly. */
async function startBoard(bytes, units) {
  let exports = null;
  const parsed = (at, size) => {
    const text = new TextDecoder().decode(new Uint8Array(exports.memory.buffer, at, size));
    const events = new TextEncoder().encode(JSON.stringify(new CaseText(text).events()) + '\0');
    const room = exports.room(events.length);
    new Uint8Array(exports.memory.buffer, room, events.length).set(events);
    return room;
  };
  exports = await startedModule(bytes, {parsed});
  return new Board(exports, units);
}
