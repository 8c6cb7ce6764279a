// Open area from the photo: dark holes told from the shell within a vent's rectangle, or two neighbouring
// holes shown by hand. It is written only when the person takes it.

const asSentence = (words) => words.charAt(0).toUpperCase() + words.slice(1) + '.';
/** What no picture shows, said with every number that is offered. */
const BEHIND = 'A black mesh or filter behind the holes does not show: look through them against a lamp, and leave this where one is.';
const SHAPE_WORDS = {round: 'round holes', square: 'square holes', slot: 'slots'};

class OpenArea {
  constructor(app) {
    this.app = app;
    this.level = 0.5;
    this.pattern = 'staggered';
    this.asked = null;   // key of the vent that is looked at
    this.points = null;  // by hand: holes clicked so far
    this.mask = null;
  }

  /** What the panel shows for a vent on a face with a photo; null: nothing. */
  node(item) {
    const {photos} = this.app, photo = photos.of(this.app.face);
    if (!photo || item.thing.face !== this.app.face) return null;
    const open = this.asked === item.key;
    const node = el('div', {class: 'open-area'},
                    button('Open area from the photo', {id: 'open-area', 'aria-pressed': String(open)}, () => this.ask(open ? null : item)));
    if (open) node.append(...this.controls(item));
    return node;
  }

  ask(item) {
    this.asked = item ? item.key : null;
    this.points = null;
    this.look();
  }

  /** The vent has been moved or resized by keys or numbers, or its photo straightened anew: what was seen is of another place. */
  follow() {
    const item = this.app.chosenItem();
    if (item && this.seen && !this.points && this.asked === item.key && this.lookedAt !== this.placeOf(item)) this.look();
  }

  placeOf({thing, centre}) {
    return JSON.stringify([thing.face, centre, thing.size, thing.turned, this.app.photos.keyOf(thing.face)]);
  }

  /** Looks at the photo again and shows what it tells. */
  look() {
    const item = this.app.chosenItem();
    this.mask = null;
    this.seen = null;
    if (item && this.asked === item.key && !this.points) {
      const photo = this.app.photos.of(this.app.face);
      this.seen = this.app.board.openArea({
        number: photo.number,
        name: this.app.photos.nameOf(this.app.face),
        centre: FaceView.onFace(item.thing.face, item.centre),
        size: item.thing.size,
        turned: item.thing.turned,
        level: this.level
      });
      this.mask = this.maskUrl(item);
      this.lookedAt = this.placeOf(item);
    }
    this.app.panel.draw();
    this.app.stage.draw();
  }

  /** The mask as a picture over the vent, as the view shows it. */
  maskUrl(item) {
    const {columns, rows, mask} = this.seen;
    if (!columns || !rows) return null;
    const canvas = el('canvas', {width: columns, height: rows}), context = canvas.getContext('2d');
    const image = context.createImageData(columns, rows), view = this.app.faceView();
    for (let k = 0; k < mask.length; ++k) {
      if (mask[k] !== '1') continue;
      const column = k % columns, row = Math.floor(k / columns);
      const x = view.right[1] > 0 ? column : columns - 1 - column, y = view.up[1] > 0 ? rows - 1 - row : row;
      image.data.set([255, 40, 160, 170], 4 * (y * columns + x));
    }
    context.putImageData(image, 0, 0);
    return {key: item.key, url: canvas.toDataURL('image/png')};
  }

  controls(item) {
    const {seen} = this, rows = [];
    if (!this.points) {
      const slider = el('input', {type: 'range', id: 'level', min: 0.2, max: 0.8, step: 0.02});
      slider.value = String(this.level);
      slider.addEventListener('change', () => {
        this.level = Number(slider.value);
        this.look();
      });
      rows.push(el('label', {class: 'field wide'}, el('span', {}, 'Where a hole’s rim is, from dark to light'), slider));
    }
    rows.push(el('p', {class: 'small', role: 'status', id: 'open-said'}, this.words()));
    const hand = button(this.points ? 'By the picture' : 'By hand: two holes', {id: 'by-hand'}, () => this.byHand(item));
    const take = button('Take this', {id: 'take-open', class: 'main'}, () => this.take(item));
    take.disabled = !seen || Boolean(seen.cannot);
    const kinds = el('select', {id: 'pattern', 'aria-label': 'How the holes lie'}, ['staggered', 'square', 'slots'].map((word) => el('option', {selected: word === this.pattern}, word)));
    kinds.addEventListener('change', () => {
      this.pattern = kinds.value;
      this.measureByHand();
    });
    rows.push(el('div', {class: 'row'}, take, hand, this.points && kinds));
    return rows;
  }

  words() {
    const {seen} = this;
    if (this.points && this.points.length < 2)
      return ['Click the middle of a hole.', 'Now the middle of its neighbour.'][this.points.length];
    if (!seen) return '';
    if (seen.cannot) return `${asSentence(seen.cannot)} The usual value of this kind of grille stays.`;
    const holes = seen.holes ? `${seen.holes} ` : '';
    const read = `${this.share(seen.open)} open; ${holes}${SHAPE_WORDS[seen.shape]} of ${this.size(seen.hole)}, ${mm(seen.pitch)} apart.`;
    return [read, seen.doubt && asSentence(seen.doubt), BEHIND].filter(Boolean).join(' ');
  }

  /** "42 % ± 3 %": points of percent, as the case file has them. */
  share([value, low, high]) {
    const spread = Math.max(value - low, high - value);
    return `${significant(100 * value, 3, 1)} %` + (spread > 0.0005 ? ` ± ${significant(100 * spread, 2, 1)} %` : '');
  }

  size([value, low, high]) {
    const spread = Math.max(value - low, high - value), text = significant(1000 * value, 3, 2);
    return spread > 5e-6 ? `${text} mm ± ${significant(1000 * spread, 2, 2)} mm` : `${text} mm`;
  }

  take(item) {
    const {open, hole, shape} = this.seen, path = ['vents', item.thing.name, 'cover'];
    const kind = shape === 'slot' ? 'slots' : item.thing.kind === 'mesh' ? 'mesh' : 'perforated';
    const {text, generic} = this.app, bare = text.value(path), has = (key) => text.has([...path, key]);
    const byName = has('like') || generic.covers.some(({name}) => name === bare);  // keeps what it says of the rest
    const entries = has('kind') ? [[[...path, 'kind'], kind]] : byName ? [] : [[path, {kind}]];
    entries.push([[...path, 'open'], this.share(open)]);
    if (hole[0] > 0) entries.push([[...path, 'hole'], this.size(hole)]);
    this.asked = null;
    this.mask = null;
    this.app.change(withEntries(this.app.text, entries));
  }

  // --- by hand -----------------------------------------------------------------------------------

  byHand() {
    this.points = this.points ? null : [];
    this.look();
  }

  /** A place that was clicked on the stage [mm]; true: it was for this. */
  clicked(at) {
    const item = this.app.chosenItem();
    if (!this.points || this.points.length > 1 || !item || this.asked !== item.key) return false;
    this.points.push(FaceView.onFace(item.thing.face, this.app.faceView().back(at)));
    this.measureByHand();
    return true;
  }

  measureByHand() {
    if (this.points && this.points.length === 2) {
      const photo = this.app.photos.of(this.app.face), [one, other] = this.points;
      this.seen = this.app.board.twoHoles(
          {number: photo.number, name: this.app.photos.nameOf(this.app.face), one, other, pattern: this.pattern});
    }
    this.app.panel.draw();
    this.app.stage.draw();
  }
}
