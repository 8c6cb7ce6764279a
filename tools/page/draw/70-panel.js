// The panel: everything about the chosen thing as numbers and words that can be typed; without one, the device.

const COVERS = ['perforated', 'slots', 'mesh', 'louvre', 'foam', 'open'];

/** A field for a quantity at a path. `unit`: of a bare number. */
const quantity = (label, path, unit) => ({label, path, unit});
const axisFields = (labels, path, unit = 'mm') => labels.map((label, k) => quantity(label, [...path, k], unit));
const FACE_LABELS = {base: ['x', 'y'], top: ['x', 'y'], front: ['x', 'z'], rear: ['x', 'z'], left: ['y', 'z'], right: ['y', 'z'], hinge: ['x']};

/** The fields of a thing of each section. */
const FIELDS = {
  vents: (app, path, vent) => [
    {label: 'Face', path: [...path, 'face'], choices: [...Object.keys(FACES).filter((f) => f !== 'inside'), 'hinge']},
    ...axisFields(FACE_LABELS[vent.face].map((a) => `Middle, ${a}`), [...path, 'centre']),
    ...axisFields(['Width', 'Height'], [...path, 'size']),
    ...(vent.face === 'hinge' ? [] : [quantity('Turned', [...path, 'turned'], 'deg')]),
    {label: 'Grille', path: [...path, 'cover', 'kind'], choices: COVERS, bare: [...path, 'cover']},
    ...(['open', 'foam'].includes(vent.kind) ? [] : [
      quantity('Open area', [...path, 'cover', 'open'], '%'), quantity('Hole', [...path, 'cover', 'hole'], 'mm')
    ]),
    ...(vent.kind === 'open' ? [] : [quantity('Thickness', [...path, 'cover', 'thickness'], 'mm')]),
    quantity('Blocked', [...path, 'blocked'], '%'),
    {label: 'Behind it', path: [...path, 'behind'], choices: ['', ...app.names('zones'), ...app.names('fins')]}
  ],
  skin: (app, path, patch) => [
    ...axisFields(FACE_LABELS[patch.face].map((a) => `Middle, ${a}`), [...path, 'centre']),
    ...axisFields(['Width', 'Height'], [...path, 'size']),
    {label: 'Material', path: [...path, 'material'], choices: ['plastic', 'metal', 'glass', 'wood']},
    quantity('A hand stays', [...path, 'contact'], 's'),
    {label: 'Behind it', path: [...path, 'behind'], choices: ['', ...app.names('zones')]}
  ],
  zones: (app, path) => [
    ...axisFields(['From x', 'From y', 'From z'], [...path, 'from']),
    ...axisFields(['To x', 'To y', 'To z'], [...path, 'to'])
  ],
  passages: (app, path, passage) => [
    {label: 'Between', path: [...path, 'between', 0], choices: app.names('zones')},
    {label: 'and', path: [...path, 'between', 1], choices: app.names('zones')},
    {label: 'Air goes along', path: [...path, 'across'], choices: ['x', 'y', 'z'], shown: passage.across},
    ...axisFields(['Middle, x', 'Middle, y', 'Middle, z'], [...path, 'at']),
    ...axisFields(['Width', 'Height'], [...path, 'size']), quantity('Length', [...path, 'length'], 'mm')
  ],
  fans: (app, path) => [
    {label: 'Kind', path: [...path, 'kind'], choices: ['blower', 'axial']},
    quantity('Diameter', [...path, 'diameter'], 'mm'), quantity('Thickness', [...path, 'thickness'], 'mm'),
    quantity('Full speed', [...path, 'speed'], 'rpm'),
    {label: 'Draws from', path: [...path, 'draws-from'], choices: [...app.names('zones'), ...app.names('vents')]},
    {
      label: 'Blows into',
      path: [...path, 'blows-into'],
      choices: [...app.names('vents'), ...app.names('fins'), ...app.names('zones')]
    },
    ...axisFields(['Middle, x', 'Middle, y', 'Middle, z'], [...path, 'at'])
  ],
  fins: (app, path) => [
    quantity('Channels', [...path, 'channels'], ''), quantity('Gap', [...path, 'gap'], 'mm'),
    quantity('Height', [...path, 'height'], 'mm'), quantity('Length, along the air', [...path, 'length'], 'mm'),
    ...axisFields(['Middle, x', 'Middle, y', 'Middle, z'], [...path, 'at'])
  ],
  sources: (app, path, source) => [
    ...app.text.keys(['loads']).map((load) => quantity(`Power, ${load}`, ['loads', load, 'power', source.name], 'W')),
    ...axisFields(['From x', 'From y', 'From z'], [...path, 'from']),
    ...axisFields(['To x', 'To y', 'To z'], [...path, 'to'])
  ],
  device: () => [
    {label: 'Name', path: ['device', 'name'], free: true},
    ...axisFields(['Width, x', 'Depth, y', 'Height, z'], ['device', 'size']), quantity('Feet', ['device', 'feet'], 'mm'),
    quantity('Room', ['room', 'temperature'], '°C')
  ]
};

class Panel {
  constructor(app) {
    this.app = app;
    this.node = el('section', {class: 'panel', 'aria-label': 'Properties'});
  }

  draw() {
    const {app} = this, item = app.chosenItem(), path = item ? [item.section, item.thing.name] : ['device'];
    const active = this.node.contains(document.activeElement) ? document.activeElement.id : null;
    const section = item ? item.section : 'device';
    const fields = FIELDS[section](app, path, item && item.thing);
    const head = item ? el('h2', {}, item.kind.title) : el('h2', {}, 'Device');
    const generic = item && genericField(app, section, path);
    const rows = [...(generic ? [generic] : []), ...fields].map((field, k) => this.row(field, field.generic ? 'generic' : `field-${k - (generic ? 1 : 0)}`));
    this.node.replaceChildren(
        el('div', {class: 'panel-head'}, head,
           item && el('button', {type: 'button', class: 'quiet-button', id: 'delete'}, 'Delete')),
        el('div', {class: 'fields'}, item && this.nameRow(item), rows),
        ...[item && item.section === 'vents' && app.openArea.node(item)].filter(Boolean));
    const gone = this.node.querySelector('#delete');
    if (gone) gone.addEventListener('click', () => app.removeChosen());
    const again = active && this.node.querySelector('#' + CSS.escape(active));
    if (again) again.focus({preventScroll: true});
  }

  nameRow(item) {
    const input = el('input', {id: 'thing-name', type: 'text', autocomplete: 'off', spellcheck: 'false'});
    input.value = item.thing.name;
    input.addEventListener('change', () => this.app.rename(item, input.value.trim()));
    return el('label', {class: 'field'}, el('span', {}, 'Name'), input);
  }

  focusName() {
    const input = this.node.querySelector('#thing-name');
    if (input) {
      input.focus();
      input.select();
    }
  }

  row(field, id) {
    const control = field.generic ? genericChoice(this.app, field, id) :
        field.choices ? this.choice(field, id) : this.typed(field, id);
    const fault = this.app.faultAt(field.path);
    if (fault) fill(control, {'aria-invalid': 'true', title: fault.message}, []);
    return el('label', {class: 'field' + (fault ? ' faulty' : '')}, el('span', {}, field.label), control);
  }

  choice(field, id) {
    const {text} = this.app, bare = field.bare && text.value(field.bare), written = text.value(field.path) ?? bare;
    const assumed = this.app.assumedAt(field.path) || (field.bare && this.app.assumedAt(field.bare));
    const now = written ?? field.shown ?? (assumed ? assumed[0] : '');
    const words = field.choices.includes(now) || now === '' ? field.choices : [now, ...field.choices];
    const select = el('select', {id}, words.map((word) => el('option', {value: word, selected: word === now},
                                                             word === '' ? (assumed ? `${assumed[0]} (assumed)` : 'as it lies') : word)));
    select.addEventListener('change', () => {
      if (select.value === '') return this.app.change(text.remove(field.path));
      this.app.change(this.app.text.set(bare !== undefined && bare !== null ? field.bare : field.path, select.value));
    });
    return select;
  }

  typed(field, id) {
    const {app} = this, assumed = app.assumedAt(field.path);
    const input = el('input', {
      id,
      type: 'text',
      autocomplete: 'off',
      spellcheck: 'false',
      inputmode: field.free ? null : 'text',
      placeholder: assumed ? assumed[0] : '',
      title: assumed ? `assumed: ${assumed[1]}` : null
    });
    const written = app.text.value(field.path);
    input.value = written ?? '';
    input.addEventListener('change', () => app.type(field, input.value));
    return input;
  }
}
