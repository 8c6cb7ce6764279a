// The bar with tools and saving, the faces to turn to, and the list of all things.

function button(words, attributes, act) {
  const node = el('button', {type: 'button', ...attributes}, words);
  node.addEventListener('click', act);
  return node;
}

class Bar {
  constructor(app) {
    this.app = app;
    this.tools = TOOLS.map(([tool, word, letter, sign]) => {
      const node = button(
          [el('span', {class: 'tool-sign', 'aria-hidden': 'true'}, sign), el('span', {class: 'tool-word'}, word)],
          {class: 'tool', 'data-tool': tool, title: `${word} (${letter})`}, () => app.setTool(tool));
      return node;
    });
    this.undo = button('Undo', {id: 'undo', title: 'Ctrl+Z'}, () => app.undo());
    this.redo = button('Redo', {id: 'redo', title: 'Ctrl+Shift+Z'}, () => app.redo());
    this.save = button(app.saving.place ? 'Save' : 'Download', {id: 'save', class: 'main', title: 'Ctrl+S'}, () => app.saving.save());
    this.title = el('h1', {});
    this.node = el(
        'header', {class: 'bar'}, el('div', {class: 'bar-name'}, this.title, app.saving.word),
        el('div', {class: 'tools', role: 'toolbar', 'aria-label': 'What to draw'}, this.tools),
        el('div', {class: 'bar-save'}, this.undo, this.redo, this.save));
    this.faces = el('nav', {class: 'faces', 'aria-label': 'Face'});
    this.seen = el('span', {class: 'seen small quiet'});
    this.flip = button('Seen from below', {id: 'flip', 'aria-pressed': 'false'}, () => {
      app.below = !app.below;
      app.draw();
    });
    this.under = el(
        'div', {class: 'under'}, this.seen, this.flip, el('span', {class: 'spring'}),
        button('−', {'aria-label': 'Smaller', title: 'Smaller'}, () => app.stage.zoom(1 / 1.4)),
        button('Fit', {title: 'The whole face'}, () => app.stage.fit()),
        button('+', {'aria-label': 'Larger', title: 'Larger'}, () => app.stage.zoom(1.4)));
  }

  draw() {
    const {app} = this;
    this.title.textContent = shown(app.shapes.device.name || app.name, 60);
    for (const node of this.tools) fill(node, {'aria-pressed': String(node.dataset.tool === app.tool)}, []);
    this.undo.disabled = !app.past.length;
    this.redo.disabled = !app.future.length;
    const focused = document.activeElement && document.activeElement.dataset.face;
    this.faces.replaceChildren(...Object.entries(FACES).map(([face, {word}]) => {
      const count = this.count(face);
      return button([word, count ? el('span', {class: 'count'}, String(count)) : '', app.photos.has(face) ? el('span', {class: 'has-photo', title: 'with a photo'}, '◉') : ''],
                    {'data-face': face, 'aria-pressed': String(face === app.face)}, () => app.turnTo(face));
    }));
    if (focused) this.faces.querySelector(`[data-face="${focused}"]`).focus({preventScroll: true});
    this.seen.textContent = app.faceView().seen;
    this.flip.hidden = app.face !== 'inside';
    fill(this.flip, {'aria-pressed': String(app.below)}, []);
  }

  count(face) {
    const {shapes, text} = this.app;
    if (face === 'inside') return ['fans', 'fins', 'zones', 'passages'].reduce((n, s) => n + text.keys([s]).length, 0);
    return shapes.vents.filter((v) => !v.leak && v.face === face).length;
  }
}

/** Every thing of the case by its section: to find and to choose one without a pointer. */
class ThingList {
  constructor(app) {
    this.app = app;
    this.node = el('section', {class: 'things', 'aria-label': 'All things'});
  }

  draw() {
    const {app} = this, groups = [];
    for (const [section, kind] of Object.entries(THINGS)) {
      const names = app.text.keys([section]);
      if (!names.length) continue;
      groups.push(el('li', {}, el('span', {class: 'quiet small'}, section), ' ', names.map((name) => {
        const key = `${section}/${name}`;
        return button(shown(name, 30), {class: 'chip', 'aria-pressed': String(app.selected === key), 'data-show': key, title: kind.title}, () => app.show(key));
      })));
    }
    this.node.replaceChildren(el('h2', {}, 'All things'), el('ul', {class: 'thing-list'}, groups));
  }
}
