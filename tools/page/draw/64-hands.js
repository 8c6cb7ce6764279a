// What pointers and keys do on the stage: choose, move, resize, draw, zoom.

const LEAST = 0.5;       // the smallest thing [mm]
const STARTED = 4;       // a pointer that moved less has clicked [px]

class Hands {
  constructor(app, stage) {
    this.app = app;
    this.stage = stage;
    this.pointers = new Map();
    this.act = null;  // what the pointer is doing
    this.rim = [];    // points of a fan's rim
    const {svg: node} = stage;
    node.addEventListener('pointerdown', (event) => this.down(event));
    node.addEventListener('pointermove', (event) => this.move(event));
    for (const end of ['pointerup', 'pointercancel']) node.addEventListener(end, (event) => this.up(event));
    node.addEventListener('wheel', (event) => this.wheel(event), {passive: false});
    node.addEventListener('focusin', (event) => this.focused(event));
    node.addEventListener('keydown', (event) => this.key(event));
  }

  wheel(event) {
    event.preventDefault();
    this.stage.zoom(Math.exp(-event.deltaY / 400), this.stage.place(event));
  }

  focused(event) {
    const key = event.target.dataset && event.target.dataset.key;
    if (key && key !== this.app.selected) this.app.select(key);
  }

  /** Where other things are, for snapping. */
  lines(without) {
    const {full} = this.stage.shown(), view = this.stage.view;
    return snapLines(view, full.filter((i) => i.key !== without).map((i) => view.heldBox(i)));
  }

  reach(event) {
    return event.altKey ? 0 : SNAP / this.stage.scale;
  }

  down(event) {
    if (event.button > 1) return;
    this.stage.svg.setPointerCapture(event.pointerId);
    this.pointers.set(event.pointerId, [event.clientX, event.clientY]);
    if (this.pointers.size === 2) return this.startPinch();
    if (this.pointers.size > 2) return;
    const at = this.stage.place(event), handle = event.target.closest('[data-handle]');
    const thing = event.target.closest('[data-key]'), tool = this.app.tool;
    const common = {from: [event.clientX, event.clientY], at, started: false};
    if (tool === 'rim') return this.rimPoint(at);
    if (tool === 'select' && event.button === 0 && this.app.openArea.clicked(at)) return event.preventDefault();
    if (tool !== 'select' && event.button === 0) {
      // Else the thing under the pointer takes the focus, and with it is chosen instead of what is drawn.
      event.preventDefault();
      this.stage.svg.focus({preventScroll: true});
      const start = snappedPoint(at, ['x', 'y'], this.lines(), this.reach(event), this.stage.view).at;
      this.act = {...common, kind: 'draw', start};
    } else if (handle && event.button === 0) {
      const which = handle.dataset.handle;
      this.act = which === 'turn' ? {...common, kind: 'turn'} : {...common, kind: 'resize', handle: which.split(',').map(Number)};
    } else if (thing && event.button === 0) {
      event.preventDefault();
      this.app.select(thing.dataset.key);
      this.focusChosen();
      this.act = {...common, kind: 'move'};
    } else {
      event.preventDefault();
      this.act = {...common, kind: 'pan', camera: {...this.stage.camera()}};
    }
    if (['move', 'resize', 'turn'].includes(this.act.kind)) {
      const item = this.app.chosenItem();
      if (!item) return (this.act = null);
      this.act = {...this.act, item, base: this.app.text, box: this.stage.view.box(item.centre, item.size)};
    }
  }

  move(event) {
    if (!this.pointers.has(event.pointerId)) return;
    this.pointers.set(event.pointerId, [event.clientX, event.clientY]);
    if (this.pinch) return this.movePinch();
    if (!this.act) return;
    const [x, y] = this.act.from;
    this.act.started = this.act.started || Math.hypot(event.clientX - x, event.clientY - y) >= STARTED;
    if (!this.act.started) return;
    this.last = event;
    // One change a picture: more would only wait for each other.
    this.waiting ??= requestAnimationFrame(() => {
      this.waiting = null;
      if (this.act && this.act.started) this.follow(this.last);
    });
  }

  follow(event) {
    const at = this.stage.place(event), {kind} = this.act;
    if (kind === 'pan') return this.pan(event);
    if (kind === 'draw') return this.sketch(at, event);
    this.app.beginStep();
    if (kind === 'move')
      this.moveTo(at, event);
    else if (kind === 'turn')
      this.turnTo(at, event);
    else
      this.resizeTo(at, event);
  }

  up(event) {
    this.pointers.delete(event.pointerId);
    if (this.pinch) {
      if (this.pointers.size < 2) this.pinch = null;
      this.act = null;
      return;
    }
    const act = this.act;
    if (!act) return;
    if (act.started && event.type === 'pointerup') this.follow(event);
    this.act = null;
    this.app.guides = [];
    const draft = this.app.draft;
    this.app.draft = null;
    if (event.type === 'pointercancel' && act.base) this.app.undoStep();
    if (act.kind === 'draw' && draft && event.type === 'pointerup') return this.app.add(draft);
    if (act.kind === 'pan' && !act.started) this.app.select(null);
    this.app.endStep();
    this.stage.draw();
  }

  // --- two fingers -------------------------------------------------------------------------------

  startPinch() {
    if (this.act && this.act.base) this.app.undoStep();
    this.act = null;
    this.app.draft = null;
    this.pinch = this.spread();
  }

  spread() {
    const [[ax, ay], [bx, by]] = [...this.pointers.values()];
    return {apart: Math.hypot(ax - bx, ay - by), x: (ax + bx) / 2, y: (ay + by) / 2};
  }

  movePinch() {
    const before = this.pinch, now = this.spread(), camera = this.stage.camera();
    camera.x -= (now.x - before.x) / this.stage.scale;
    camera.y -= (now.y - before.y) / this.stage.scale;
    this.pinch = now;
    this.stage.zoom(now.apart / before.apart, this.stage.place({clientX: now.x, clientY: now.y}));
  }

  pan(event) {
    const {from, camera} = this.act, scale = this.stage.scale, now = this.stage.camera();
    now.x = camera.x - (event.clientX - from[0]) / scale;
    now.y = camera.y - (event.clientY - from[1]) / scale;
    this.stage.draw();
  }

  // --- moving and resizing -----------------------------------------------------------------------

  moveTo(at, event) {
    const {item, box, at: from} = this.act, view = this.stage.view;
    const moved = {...box, x: box.x + at[0] - from[0], y: box.y + at[1] - from[1]};
    const held = heldBox(moved, view.turnOf(item.thing));  // what lies on the face and snaps
    const {box: snapped, guides} = snappedMove(held, this.lines(item.key), this.reach(event), view);
    this.app.guides = guides;
    const {x, y} = keptOn(view, snapped);
    this.change({...box, x, y});
  }

  /** Follows the round handle, which stands to the lower right of a box that is not turned: whole degrees. */
  turnTo(at, event) {
    const {item, box, at: from} = this.act, view = this.stage.view;
    const angle = ([x, y]) => Math.atan2(box.y - y, x - box.x) * 180 / Math.PI;
    const by = angle(at) - angle(from), now = view.turnOf(item.thing) + by;
    this.app.turn(item, event.altKey ? toTenths(now) : Math.round(now), this.act.base);
  }

  resizeTo(at, event) {
    const {item, box, handle: [a, b]} = this.act, view = this.stage.view;
    if (item.kind.round) {
      const w = 2 * toTenths(Math.hypot(at[0] - box.x, at[1] - box.y));
      return this.change({...box, w: Math.max(2 * LEAST, w), h: Math.max(2 * LEAST, w)});
    }
    const axes = [a && 'x', b && 'y'].filter(Boolean);
    const turn = view.turnOf(item.thing);
    if (turn) return this.stretchTurned(at, turn);
    const {at: to, guides} = snappedPoint(at, axes, this.lines(item.key), this.reach(event), view);
    this.app.guides = guides;
    this.change(stretched(box, [a, b], to, view));
  }

  /** In the box's own axes, about its middle; what results is turned back, so that the far side stays. */
  stretchTurned([x, y], turn) {
    const {box, handle} = this.act, view = this.stage.view;
    const own = turnedBy([x - box.x, y - box.y], -turn).map(toTenths);
    const room = {width: 2 * (view.width + view.height), height: 2 * (view.width + view.height)};
    const pulled = stretched({...box, x: 0, y: 0}, handle, own, room);
    const [dx, dy] = turnedBy([pulled.x, pulled.y], turn);
    const next = {...pulled, x: box.x + dx, y: box.y + dy}, held = heldBox(next, turn);
    const kept = keptOn(view, held);
    if (Math.hypot(kept.x - held.x, kept.y - held.y) < 0.05 && kept.w === held.w && kept.h === held.h) this.change(next);
  }

  change(box) {
    const {item, base} = this.act;
    this.app.place(item, box, base);
  }

  // --- drawing -----------------------------------------------------------------------------------

  sketch(at, event) {
    const view = this.stage.view, {start} = this.act;
    if (this.app.tool === 'fans') {
      const r = toTenths(Math.hypot(at[0] - start[0], at[1] - start[1]));
      this.app.draft = {x: start[0], y: start[1], w: 2 * r, h: 2 * r, round: true};
    } else {
      const {at: to, guides} = snappedPoint(at, ['x', 'y'], this.lines(), this.reach(event), view);
      this.app.guides = guides;
      this.app.draft = cut(view, start, to);
    }
    this.stage.draw();
  }

  /** Three points of a fan's rim. */
  rimPoint(at) {
    this.rim.push(at);
    const [x, y] = at;
    const circle = this.rim.length === 3 ? circleThrough(...this.rim) : null;
    this.app.draft = {x, y, w: 0, h: 0, round: true, points: this.rim};
    this.stage.draw();
    if (this.rim.length < 3) return this.app.say(`Point ${this.rim.length} of 3 of the fan's rim.`);
    this.rim = [];
    this.app.draft = null;
    if (!circle) return this.app.say('The three points lie in a line. Choose three that are apart on the rim.');
    this.app.add({...circle, w: toTenths(circle.w), h: toTenths(circle.w), round: true});
  }

  // --- keys --------------------------------------------------------------------------------------

  focusChosen() {
    const node = this.app.selected && this.stage.svg.querySelector(`[data-key="${CSS.escape(this.app.selected)}"]`);
    if (node) node.focus({preventScroll: true});
  }

  key(event) {
    const ARROWS = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]};
    const arrow = ARROWS[event.key], item = this.app.chosenItem();
    if (arrow && item) {
      event.preventDefault();
      const step = event.shiftKey ? 10 : event.altKey ? 0.1 : 1, view = this.stage.view;
      const turn = view.turnOf(item.thing);
      const box = view.box(item.centre, item.size), [dx, dy] = arrow.map((a) => a * step);
      this.app.beginStep(event.ctrlKey || event.metaKey ? 'resize ' + item.key : 'move ' + item.key);
      if (event.ctrlKey || event.metaKey) {
        const w = Math.max(LEAST, box.w + dx), h = Math.max(LEAST, box.h - dy);
        const next = item.kind.round ? {...box, w: dx ? w : h, h: dx ? w : h} : {...box, w, h};
        this.app.place(item, turn ? next : keptOn(view, next), this.app.text);
      } else {
        const {x, y} = keptOn(view, heldBox({...box, x: box.x + dx, y: box.y + dy}, turn));
        this.app.place(item, {...box, x, y}, this.app.text);
      }
      this.app.endStep(true);
    } else if ((event.key === 'PageUp' || event.key === 'PageDown') && item && item.section === 'vents') {
      event.preventDefault();
      const step = (event.shiftKey ? 15 : event.altKey ? 0.1 : 1) * (event.key === 'PageUp' ? 1 : -1);
      this.app.beginStep('turn ' + item.key);
      this.app.turn(item, toTenths(this.stage.view.turnOf(item.thing) + step), this.app.text);
      this.app.endStep(true);
    } else if ((event.key === 'Delete' || event.key === 'Backspace') && item) {
      event.preventDefault();
      this.app.removeChosen();
    } else if (event.key === 'Enter' && item) {
      event.preventDefault();
      this.app.panel.focusName();
    }
  }
}

/** A box with one of its corners or edges pulled to a place; it never turns inside out. */
function stretched({x, y, w, h}, [a, b], [px_, py_], view) {
  const pull = (middle, extent, sense, to, room) => {
    if (!sense) return [middle, extent];
    const fixed = middle - sense * extent / 2, held = Math.min(room, Math.max(-room, to));
    const now = Math.max(LEAST, sense * (held - fixed));
    return [fixed + sense * now / 2, now];
  };
  const [nx, nw] = pull(x, w, a, px_, view.width / 2), [ny, nh] = pull(y, h, b, py_, view.height / 2);
  return {x: nx, y: ny, w: nw, h: nh};
}

/** The box between two corners, as far as it lies on the face. */
function cut(view, [ax, ay], [bx, by]) {
  const held = (value, room) => Math.min(room, Math.max(-room, value));
  const [x1, x2] = [ax, bx].map((v) => held(v, view.width / 2)), [y1, y2] = [ay, by].map((v) => held(v, view.height / 2));
  return {x: (x1 + x2) / 2, y: (y1 + y2) / 2, w: Math.abs(x2 - x1), h: Math.abs(y2 - y1)};
}
