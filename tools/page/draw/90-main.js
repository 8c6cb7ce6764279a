// The page as a whole: what is drawn, what was changed, and who is told.

const TOOLS = [
  ['select', 'Choose', 'v', '↖'], ['vents', 'Vent', 'g', '▦'], ['slots', 'Slots', 'l', '▥'], ['fans', 'Fan', 'f', '◎'],
  ['rim', 'Fan by 3 points', 'r', '⌾'], ['fins', 'Fins', 'n', '☰'], ['sources', 'Heat', 'h', '♨'],
  ['zones', 'Zone', 'z', '▢'], ['passages', 'Passage', 'p', '⇄'], ['skin', 'Skin', 'k', '▭']
];
const INSIDE_TOOLS = new Set(['fans', 'rim', 'fins', 'sources', 'zones', 'passages']);
const sectionOf = (tool) => (tool === 'slots' ? 'vents' : tool === 'rim' ? 'fans' : tool);

class App {
  constructor({name, text, words, save, photos, generic}, board) {
    Object.assign(this, {name, words, board, generic, face: 'base', tool: 'select', selected: null, guides: [], draft: null});
    Object.assign(this, {past: [], future: [], step: null, condition: 0, said: [], shapes: null, below: false});
    this.text = new CaseText(text);
    this.photos = new Photos(this, photos);
    this.openArea = new OpenArea(this);
    this.stage = new Stage(this);
    this.hands = new Hands(this, this.stage);
    this.panel = new Panel(this);
    this.answers = new Answers(this);
    this.saving = new Saving(this, save);
    this.read();
  }

  // --- the case ----------------------------------------------------------------------------------

  get sound() {
    return this.shapes.sound;
  }

  faceView() {
    const size = this.shapes.device.size.every((s) => s > 0) ? this.shapes.device.size : [0.3, 0.2, 0.02];
    return new FaceView(this.face, size, this.face === 'inside' && this.below);
  }

  names(section) {
    const names = this.text.keys([section]);
    return section === 'zones' && !names.length ? ['inside'] : names;
  }

  /** Reads the text as it is now, and has it solved. */
  read() {
    const began = performance.now(), fault = this.text.fault();
    const before = this.shapes;
    if (fault) {
      this.shapes = {...(before || EMPTY), sound: false, errors: [{...fault, key: '', hint: ''}], warnings: []};
    } else {
      this.shapes = this.board.read(this.text, this.name);
      for (const fins of this.shapes.fins) fins.along = this.finsAlong(fins);
    }
    this.judged = null;
    this.solution = null;
    if (this.sound) {
      this.condition = Math.min(this.condition, this.shapes.conditions.length - 1);
      this.solve();
    }
    this.draw();
    document.documentElement.dataset.took = (performance.now() - began).toFixed(1);
    this.judgeSoon();
  }

  /** Fins lie across the vent that they serve; else along y. */
  finsAlong(fins) {
    const vent = this.shapes.vents.find((v) => v.behind === fins.name && v.face !== 'hinge');
    return vent && (vent.face === 'left' || vent.face === 'right') ? X : Y;
  }

  solve() {
    this.solution = this.board.solved(this.condition);
  }

  /** The other conditions are solved when nothing else happens, one at a time; then the claims are judged. */
  judgeSoon() {
    clearTimeout(this.judging);
    if (!this.sound || !this.shapes.claims.length) return;
    const wanted = this.shapes.conditions.map((_, k) => k).filter((k) => k !== this.condition);
    const next = () => {
      if (wanted.length) {
        this.board.solved(wanted.shift());
        this.judging = setTimeout(next, 0);
        return;
      }
      this.judged = this.board.judged();
      this.answers.draw();
      document.documentElement.dataset.judged = 'yes';
    };
    delete document.documentElement.dataset.judged;
    this.judging = setTimeout(next, 120);
  }

  showCondition(index) {
    this.condition = index;
    this.solve();
    this.draw();
    this.judgeSoon();
  }

  /** Adds the condition shown, on a generic support. */
  layOn(support) {
    if (!support || !this.sound) return;
    const {conditions} = this.shapes, added = withSupport(this.text, conditions, conditions[this.condition], support);
    this.change(added.text);
    const index = (this.shapes.conditions || []).findIndex((c) => c.name === added.name);
    if (this.sound && index >= 0) this.showCondition(index);
  }

  // --- changes -----------------------------------------------------------------------------------

  /** Changes that belong together are one step back. `kind`: of a run of keys, which is one step too. */
  beginStep(kind) {
    if (this.step) return;
    this.step = {text: this.text.text, kind};
  }

  endStep(merges) {
    const step = this.step;
    this.step = null;
    if (!step || step.text === this.text.text) return;
    const last = this.past[this.past.length - 1], now = performance.now();
    const goesOn = merges && last && step.kind && last.kind === step.kind && now - last.at < 1500;
    if (goesOn)
      last.at = now;
    else
      this.past.push({text: step.text, kind: step.kind, at: now});
    if (this.past.length > 500) this.past.shift();
    this.future = [];
    this.drawBar();
  }

  undoStep() {
    const step = this.step;
    this.step = null;
    if (step) this.setText(step.text);
  }

  /** Another text: read, solved and drawn. */
  setText(text) {
    if (text === this.text.text) return;
    this.text = new CaseText(text);
    this.read();
    if (this.sound) this.openArea.follow();
  }

  /** The same as a step of its own. */
  change(text) {
    const own = !this.step;
    this.beginStep();
    this.said = [];
    this.setText(text);
    if (own) this.endStep();
  }

  undo() {
    this.travel(this.past, this.future);
  }

  redo() {
    this.travel(this.future, this.past);
  }

  travel(from, to) {
    const step = from.pop();
    if (!step) return;
    to.push({text: this.text.text, at: 0});
    this.said = [];
    this.setText(step.text);
  }

  /** Puts a thing into another box of the stage; `base`: the text that it is written into. */
  place(item, box, base) {
    const view = this.faceView(), centre = [...item.centre];
    const at = view.back([box.x, box.y]);
    for (const [axis] of [view.right, view.up]) centre[axis] = at[axis];
    const to = {centre, size: view.extents(box, item.size)};
    this.setText(withEntries(base, item.kind.write(base, item.thing, to)));
  }

  /** Turns a vent [deg], counter-clockwise as it is seen from outside; from -90 on, for more looks the same. */
  turn(item, degrees, base) {
    if (item.thing.face === 'hinge') return;
    const angle = degrees - 180 * Math.ceil((degrees - 90) / 180), path = ['vents', item.thing.name, 'turned'];
    const rounded = toTenths(angle);
    this.setText(withEntries(base, [[path, rounded ? `${rounded} deg` : undefined]]));
  }

  /** Adds what was drawn. */
  add(draft) {
    const section = sectionOf(this.tool), view = this.faceView();
    if (Math.max(draft.w, draft.h) * this.stage.scale < 4) return this.stage.draw();
    const made = newThing(section, view, draft, {text: this.text, shapes: this.shapes, kind: this.tool === 'slots' ? 'slots' : null});
    if (made.refused) {
      this.say(made.refused);
      return this.stage.draw();
    }
    const key = `${section}/${made.name}`;
    this.beginStep();
    const isFirstZone = section === 'zones' && !this.text.has(['zones']);
    this.setText(this.text.set([section, made.name], made.value));
    // Without zones of its own a case has one named 'inside'; what named that one names the first drawn.
    if (isFirstZone) this.setText(this.text.rename('zones', 'inside', made.name));
    this.mendBehind(section, made.name);
    this.endStep();
    this.setTool('select');
    this.select(key);
    this.hands.focusChosen();
  }

  /** Where zones leave open which lies behind a new thing, the nearest one is written. */
  mendBehind(section, name) {
    const unclear = this.shapes.errors.some((e) => e.key.startsWith(`${section}.${name}`) && /zone/.test(e.message));
    const thing = (this.shapes[section] || []).find((t) => t.name === name);
    if (!unclear || !thing || !this.text.has(['zones']) || !['vents', 'skin'].includes(section)) return;
    this.setText(this.text.set([section, name, 'behind'], zoneAt(this.shapes, this.text, thing.centre)));
  }

  rename(item, name) {
    if (!name || name === item.thing.name) return this.panel.draw();
    if (this.text.has([item.section, name])) {
      this.say(`There is a ${item.kind.word} called ${name} already.`);
      return this.panel.draw();
    }
    this.selected = `${item.section}/${name}`;
    this.change(this.text.rename(item.section, item.thing.name, name));
  }

  removeChosen() {
    const item = this.chosenItem();
    if (!item) return;
    this.selected = null;
    this.change(this.text.remove([item.section, item.thing.name]));
    this.stage.svg.focus({preventScroll: true});
  }

  /** A value typed into a field. An empty one is taken away: then it is assumed. */
  type(field, typed) {
    const {path} = field, last = path[path.length - 1];
    if (typeof last === 'number') return this.typeInList(field, typed);
    if (typed.trim() === '') return this.change(this.text.has(path) ? this.text.remove(path) : this.text.text);
    this.change(this.text.set(path, field.free ? typed.trim() : asQuantity(typed, field.unit)));
  }

  /** One of a list of lengths; where the list is not written yet, the others are as they are shown. */
  typeInList({path, unit}, typed) {
    const list = path.slice(0, -1), index = path[path.length - 1];
    if (typed.trim() === '') return this.panel.draw();
    const value = asQuantity(typed, unit);
    if (YAML.isSeq(this.text.node(list)) && this.text.has(path)) return this.change(this.text.set(path, value));
    const whole = this.listAsShown(list);
    whole[index] = value;
    const entries = [[list, whole]], key = list[list.length - 1];
    if (key === 'centre' || key === 'at')
      entries.push(...fromEdges(this.text, list.slice(0, -1)).map((edge) => [[...list.slice(0, -1), edge], undefined]));
    if (key === 'from' || key === 'to') {
      const other = [...list.slice(0, -1), key === 'from' ? 'to' : 'from'];
      if (!this.text.has(other)) entries.push([other, this.listAsShown(other)]);
    }
    this.change(withEntries(this.text, entries));
  }

  listAsShown(list) {
    const [section, name] = list, key = list[list.length - 1];
    if (section === 'device') return lengths(this.shapes.device.size);
    const thing = this.shapes[section].find((t) => t.name === name), {centre, size} = THINGS[section].box(thing);
    if (key === 'from' || key === 'to') return lengths(centre.map((c, k) => c + (key === 'to' ? 1 : -1) * size[k] / 2));
    if (key === 'size') return lengths(thing.size);
    return lengths(thing.face ? FACE_AXES[thing.face].map((axis) => centre[axis]) : centre);
  }

  // --- what is chosen ----------------------------------------------------------------------------

  chosenItem() {
    if (!this.selected) return null;
    const slash = this.selected.indexOf('/'), section = this.selected.slice(0, slash), name = this.selected.slice(slash + 1);
    const thing = (this.shapes[section] || []).find((t) => t.name === name), kind = THINGS[section];
    return thing ? {section, kind, thing, ...kind.box(thing), key: this.selected} : null;
  }

  select(key) {
    if (this.selected === key) return;
    this.selected = key;
    if (this.openArea.asked !== key) this.openArea.ask(null);
    this.stage.draw();
    this.panel.draw();
    this.things.draw();
  }

  /** Chooses a thing and turns to its face. */
  show(key) {
    const slash = key.indexOf('/'), section = key.slice(0, slash);
    const thing = (this.shapes[section] || []).find((t) => t.name === key.slice(slash + 1));
    if (thing) this.turnTo(thing.face ? (thing.face === 'hinge' ? 'rear' : thing.face) : 'inside');
    this.select(key);
    this.hands.focusChosen();
    this.stage.node.scrollIntoView({block: 'nearest'});
    this.panel.node.parentElement.scrollTop = 0;
  }

  /** The thing that a key path of a message is about. */
  thingOf(path) {
    const [section] = path.split('.');
    if (!THINGS[section]) return null;
    const name = this.text.keys([section]).filter((n) => (path + '.').startsWith(`${section}.${n}.`)).sort((a, b) => b.length - a.length)[0];
    return name ? `${section}/${name}` : null;
  }

  keyOf(path) {
    return path.map((part, k) => (typeof part === 'number' ? `[${part}]` : (k ? '.' : '') + part)).join('');
  }

  faultAt(path) {
    const key = this.keyOf(path);
    return this.shapes.errors.find((e) => e.key === key);
  }

  assumedAt(path) {
    return (this.shapes.assumed || {})[this.keyOf(path)];
  }

  // --- the page ----------------------------------------------------------------------------------

  turnTo(face) {
    if (this.face === face) return;
    this.photos.straightener.end();
    this.face = face;
    this.selected = null;
    this.draft = null;
    if (INSIDE_TOOLS.has(this.tool) !== (face === 'inside') && this.tool !== 'select') this.setTool('select');
    this.draw();
  }

  setTool(tool) {
    this.tool = tool;
    this.draft = null;
    this.hands.rim = [];
    if (INSIDE_TOOLS.has(tool) && this.face !== 'inside') this.turnTo('inside');
    if (['vents', 'slots', 'skin'].includes(tool) && this.face === 'inside') this.turnTo('base');
    this.tool = tool;
    this.stage.svg.classList.toggle('drawing', tool !== 'select');
    this.drawBar();
  }

  /** A thing in the middle of the face, for those who draw with keys. */
  addInMiddle() {
    if (this.tool === 'select') return;
    const view = this.faceView(), side = Math.min(view.width, view.height) / 3;
    const w = Math.round(Math.min(view.width / 3, 3 * side)), h = Math.max(1, Math.round(side));
    const round = sectionOf(this.tool) === 'fans';
    this.add(round ? {x: 0, y: 0, w: h, h, round} : {x: 0, y: 0, w, h});
  }

  say(words) {
    this.said = [words];
    this.answers.draw();
  }

  drawBar() {
    this.bar.draw();
    this.saving.draw();
  }

  draw() {
    if (!this.bar) return;
    this.stage.draw();
    this.panel.draw();
    this.things.draw();
    this.answers.draw();
    this.photos.draw();
    this.drawBar();
  }

  keys(event) {
    const typing = event.target.closest && event.target.closest('input, textarea, select');
    const command = event.ctrlKey || event.metaKey, key = event.key.toLowerCase();
    if (command && key === 's') return event.preventDefault(), this.saving.save();
    if (typing) return;
    if (command && key === 'z') return event.preventDefault(), event.shiftKey ? this.redo() : this.undo();
    if (command && key === 'y') return event.preventDefault(), this.redo();
    if (command || event.altKey) return;
    if (event.key === 'Escape') return this.setTool('select'), this.select(null), this.stage.draw();
    if (event.key === 'Enter' && this.tool !== 'select' && !event.target.closest('button')) return event.preventDefault(), this.addInMiddle();
    const tool = TOOLS.find(([, , letter]) => letter === key);
    if (tool) this.setTool(tool[0]);
  }
}

const EMPTY = {
  device: {name: '', size: [0.3, 0.2, 0.02], feet: 0},
  zones: [],
  passages: [],
  vents: [],
  fans: [],
  fins: [],
  sources: [],
  skin: []
};

async function startPage() {
  const data = JSON.parse(document.getElementById('data').textContent), root = document.getElementById('page');
  try {
    const board = await startBoard(await bytesOf(SOLVER_BYTES), data.units), app = new App(data, board);
    app.bar = new Bar(app);
    app.things = new ThingList(app);
    root.replaceChildren(
        app.bar.node,
        el('main', {class: 'table'}, el('div', {class: 'left'}, app.bar.faces, app.stage.node, app.bar.under, app.photos.node),
           el('div', {class: 'right'}, app.panel.node, app.answers.node, app.things.node)));
    addEventListener('keydown', (event) => app.keys(event));
    await app.photos.open();
    app.draw();
    document.documentElement.dataset.ready = 'yes';
  } catch (error) {
    root.replaceChildren(el('p', {class: 'fault'}, 'This page can’t start: ' + error.message));
    document.documentElement.dataset.ready = 'no';
    throw error;
  }
}

startPage();
