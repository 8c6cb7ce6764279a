// Photos of the faces: taken in, scaled down, and laid on their face by the places that the case states.
// Nothing but pixels is kept of a picture's file: no place, no camera, no time.

const LONGEST_PHOTO = 2600;   // [px] a side; larger ones are scaled down at once
const SMALLEST_PHOTO = 64;    // [px] a side
const STRAIGHT_LONGEST = 1600;  // [px] of a face as it is shown

/** What a file is that is no picture for this page, in plain words; null: it may be one. */
async function refusedFile(file) {
  if (file.size === 0) return 'is empty';
  const head = new Uint8Array(await file.slice(0, 16).arrayBuffer());
  const starts = (text, from = 0) => [...text].every((letter, k) => head[from + k] === letter.charCodeAt(0));
  if (starts('%PDF')) return 'is a PDF, no picture. Save the page as a JPEG or PNG picture first';
  if (starts('ftypheic', 4) || starts('ftypheix', 4) || starts('ftypmif1', 4))
    return 'is a HEIC picture, which browsers don’t show. Have the phone hand it over as JPEG';
  const known = (head[0] === 0xff && head[1] === 0xd8) || starts('\x89PNG') || (starts('RIFF') && starts('WEBP', 8));
  if (!known) return 'is no JPEG, PNG or WebP picture';
  return null;
}

/** The pixels of a picture's file, turned upright and scaled down: a canvas. Throws words for the person. */
async function takenIn(file, name) {
  const refused = await refusedFile(file);
  if (refused) throw new Error(`${name} ${refused}.`);
  let picture;
  try {
    picture = await createImageBitmap(file, {imageOrientation: 'from-image'});
  } catch {
    throw new Error(`${name} is broken: its picture can’t be read.`);
  }
  const {width, height} = picture;
  if (Math.min(width, height) < SMALLEST_PHOTO) {
    picture.close();
    throw new Error(`${name} has ${width} × ${height} pixels: too few to draw on (at least ${SMALLEST_PHOTO} a side).`);
  }
  const scale = Math.min(1, LONGEST_PHOTO / Math.max(width, height));
  const canvas = el('canvas', {width: Math.round(width * scale), height: Math.round(height * scale)});
  const context = canvas.getContext('2d', {willReadFrequently: true});
  context.imageSmoothingQuality = 'high';
  context.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  return canvas;
}

const blobOf = (canvas, type, quality) => new Promise((done) => canvas.toBlob(done, type, quality));

/** One photo: its pixels, the file that it is saved as, and how it is shown. */
class Photo {
  constructor(number, canvas, file) {
    Object.assign(this, {number, canvas, file, bytes: null, shown: null, url: null, key: ''});
  }

  get width() {
    return this.canvas.width;
  }
  get height() {
    return this.canvas.height;
  }

  /** Its picture as it was taken. */
  async pictureUrl() {
    return (this.taken ??= URL.createObjectURL(await blobOf(this.canvas, 'image/jpeg', 0.9)));
  }

  dispose() {
    for (const url of [this.taken, this.url]) if (url) URL.revokeObjectURL(url);
  }
}

class Photos {
  constructor(app, given) {
    this.app = app;
    this.given = given;
    this.byFile = new Map();
    this.numbers = 0;
    this.input = el('input', {type: 'file', accept: 'image/jpeg,image/png,image/webp', id: 'photo-file', hidden: true});
    this.input.addEventListener('change', () => this.choose(this.input.files));
    this.node = el('section', {class: 'photo', 'aria-label': 'Photo'});
    this.straightener = new Straightener(app, this);
    for (const kind of ['dragover', 'dragleave', 'drop']) addEventListener(kind, (event) => this.drag(event));
    addEventListener('paste', (event) => event.clipboardData && this.choose(event.clipboardData.files));
  }

  /** Photos that came with the page. */
  async open() {
    for (const {file, bytes} of this.given) {
      try {
        const binary = Uint8Array.from(atob(bytes), (letter) => letter.charCodeAt(0));
        this.keep(await takenIn(new Blob([binary]), file), file, null);
      } catch (error) {
        this.app.say(error.message);
      }
    }
    this.given = [];
    this.app.below = this.insideFromBelow();
    await this.lay();
    this.draw();
  }

  /** Whether the photo of the inside was taken with the base off: its corners then run clockwise. */
  insideFromBelow() {
    const node = this.app.text.node(['photos', this.nameOf('inside'), 'corners']);
    if (!YAML.isSeq(node)) return false;
    const places = node.items.map((item) => (YAML.isSeq(item) ? item.items.map((v) => Number(v.value)) : [0, 0]));
    return places.reduce((area, [x, y], k) => {
      const [u, v] = places[(k + 1) % places.length];
      return area + x * v - u * y;
    }, 0) > 0;
  }

  keep(canvas, file, bytes) {
    const before = this.byFile.get(file), photo = new Photo(before ? before.number : ++this.numbers, canvas, file);
    if (before) before.dispose();
    photo.bytes = bytes;
    const {width, height} = canvas;
    this.app.board.givePhoto(photo.number, canvas.getContext('2d').getImageData(0, 0, width, height));
    this.byFile.set(file, photo);
    return photo;
  }

  /** The name in `photos` of a face's photo; undefined: none. */
  nameOf(face) {
    const {text} = this.app;
    return text.keys(['photos']).find((name) => text.value(['photos', name, 'face']) === face);
  }

  /** The photo of a face, where its pixels are at hand. */
  of(face) {
    const name = this.nameOf(face);
    return name && this.byFile.get(this.app.text.value(['photos', name, 'file']));
  }

  has(face) {
    return Boolean(this.of(face));
  }

  /** What the face looks like in its photo, as an address; null: nothing yet. */
  straight(face) {
    const photo = this.of(face);
    if (photo && photo.key !== this.keyOf(face)) this.lay();
    return photo ? photo.url : null;
  }

  /** All that decides how a photo is laid on its face. */
  keyOf(face) {
    const {text, shapes, below} = this.app, node = text.node(['photos', this.nameOf(face)]);
    return JSON.stringify([node && text.text.slice(node.range[0], node.range[1]), shapes.device.size, below]);
  }

  /** Lays the photo of the face that is shown on it, if what it hangs on has changed. */
  async lay(longest = STRAIGHT_LONGEST) {
    const {app} = this, {face} = app, photo = this.of(face), key = photo && this.keyOf(face);
    if (!photo || photo.key === key) return;
    photo.key = key;
    const view = app.faceView(), scale = longest / Math.max(view.width, view.height);
    const size = {width: Math.max(1, Math.round(view.width * scale)), height: Math.max(1, Math.round(view.height * scale))};
    const pixels = app.board.straightened({
      number: photo.number,
      name: this.nameOf(face),
      right: view.right[1],
      down: -view.up[1],
      ...size
    });
    let url = null;
    if (pixels) {
      const canvas = el('canvas', size);
      canvas.getContext('2d').putImageData(new ImageData(pixels, size.width, size.height), 0, 0);
      url = URL.createObjectURL(await blobOf(canvas, 'image/png'));
    }
    if (photo.url) URL.revokeObjectURL(photo.url);
    photo.url = url;
    app.stage.draw();
  }

  // --- taking in ---------------------------------------------------------------------------------

  drag(event) {
    if (!event.dataTransfer || ![...event.dataTransfer.types].includes('Files')) return;
    event.preventDefault();
    document.body.classList.toggle('dropping', event.type === 'dragover');
    if (event.type === 'drop') this.choose(event.dataTransfer.files);
  }

  async choose(files) {
    const [file] = files;
    if (!file) return;
    this.input.value = '';
    this.app.say(`Reading ${file.name} …`);
    try {
      const words = await this.take(file);
      this.app.said = words ? [words] : [];
    } catch (error) {
      this.app.said = [error.message + ' Nothing was changed.'];
    }
    this.app.draw();
  }

  /** A picture as the photo of the face that is shown. */
  async take(file) {
    const {app} = this, {face} = app, canvas = await takenIn(file, file.name);
    const name = `${app.name.replace(/\.ya?ml$/, '')}-${face}.jpg`;
    const bytes = new Uint8Array(await (await blobOf(canvas, 'image/jpeg', 0.9)).arrayBuffer());
    const {number} = this.keep(canvas, name, bytes), cards = app.board.cornersOf({number, face});
    const {width, height} = canvas, [mx, my] = [width * 0.1, height * 0.1];
    const key = this.nameOf(face) || face;
    const found = cards.corners.length === 4;
    const corners = found ? cards.corners : this.cornersOf([[mx, my], [width - mx, my], [width - mx, height - my], [mx, height - my]]);
    app.change(app.text.set(['photos', key], {
      file: name,
      face,
      corners: corners.map((corner) => corner.map((v) => v.toFixed(1))),
      ...(Math.abs(cards.bulge) >= 0.0005 && {bulge: cards.bulge.toFixed(3)}),
      size: [String(width), String(height)]
    }));
    if (found) return `The four corner cards were found: the photo lies on its face.`;
    await this.straightener.begin();
    return cards.found ? `${cards.found} of 4 corner cards were found; drag the marks onto the corners.` : '';
  }

  /**
   * The corners of the picture, clockwise from the upper left one of the view, in the order of the case file:
   * from the face's own [0, 0] along its first axis. The same the other way round.
   */
  cornersOf(clockwise) {
    const view = this.app.faceView(), first = view.right[1] > 0;
    return first ? [3, 2, 1, 0].map((k) => clockwise[k]) : [2, 3, 0, 1].map((k) => clockwise[k]);
  }

  remove() {
    const {app} = this, name = this.nameOf(app.face);
    if (name) app.change(app.text.remove(['photos', name]));
    this.straightener.end();
  }

  changed() {
    return this.unsaved().length > 0;
  }

  /** Photos of the case that have not been handed over yet. */
  unsaved() {
    const {text} = this.app, named = text.keys(['photos']).map((name) => text.value(['photos', name, 'file']));
    return [...this.byFile.values()].filter((photo) => photo.bytes && named.includes(photo.file)).map((photo) => ({
      name: photo.file,
      bytes: photo.bytes,
      saved: () => {
        photo.bytes = null;
      }
    }));
  }

  // --- the line below the stage ------------------------------------------------------------------

  draw() {
    const {app} = this, name = this.nameOf(app.face), photo = this.of(app.face), open = this.straightener.active;
    if (open) return;
    const row = el('div', {class: 'row'});
    const pick = (words) => button(words, {id: 'pick-photo'}, () => this.input.click());
    if (photo) {
      row.append(el('span', {}, 'Photo: ', el('b', {}, shown(photo.file, 40))),
                 button('Straighten', {id: 'straighten'}, () => this.straightener.begin()), pick('Another photo'),
                 button('Remove photo', {id: 'remove-photo'}, () => this.remove()));
    } else {
      row.append(pick(`Photo of this ${app.face === 'inside' ? 'inside' : 'face'} …`),
                 el('span', {class: 'quiet small'}, name ?
                        `${shown(app.text.value(['photos', name, 'file']) || '', 60)} is not beside the case.` :
                        'Choose, drop or paste a picture, or draw on the plain face, which is to scale. It stays on this machine.'));
    }
    this.node.replaceChildren(this.input, row);
  }
}
