// Straightening: where the face lies in its photo, by its four corners, or by two points and a length for a
// picture taken square on; and the bulge of the lens.

const CORNER_WORDS = {
  base: ['front left', 'front right', 'rear right', 'rear left'],
  top: ['front left', 'front right', 'rear right', 'rear left'],
  inside: ['front left', 'front right', 'rear right', 'rear left'],
  left: ['front bottom', 'rear bottom', 'rear top', 'front top'],
  right: ['front bottom', 'rear bottom', 'rear top', 'front top'],
  front: ['left bottom', 'right bottom', 'right top', 'left top'],
  rear: ['left bottom', 'right bottom', 'right top', 'left top']
};

/** A place mended of a bulge about a picture's middle, as docs and geometry/photo have it; and the way back. */
function mendedPlace([x, y], bulge, {width, height}) {
  const half = Math.hypot(width, height) / 2, dx = (x - width / 2) / half, dy = (y - height / 2) / half;
  const factor = 1 / Math.max(1e-3, 1 - bulge * (dx * dx + dy * dy));
  return [width / 2 + half * dx * factor, height / 2 + half * dy * factor];
}
function bulgedPlace([x, y], bulge, {width, height}) {
  const half = Math.hypot(width, height) / 2, dx = (x - width / 2) / half, dy = (y - height / 2) / half;
  const factor = 2 / (1 + Math.sqrt(Math.max(0, 1 + 4 * bulge * (dx * dx + dy * dy))));
  return [width / 2 + half * dx * factor, height / 2 + half * dy * factor];
}

/** The edges between places as the lens bends them: straight in the mended picture. */
function bentOutline(places, bulge, photo, closed) {
  const mended = places.map((place) => mendedPlace(place, bulge, photo)), points = [], steps = 24;
  const ends = closed ? mended.length : mended.length - 1;
  for (let k = 0; k < ends; ++k) {
    const [ax, ay] = mended[k], [bx, by] = mended[(k + 1) % mended.length];
    for (let i = 0; i <= steps; ++i)
      points.push(bulgedPlace([ax + (bx - ax) * i / steps, ay + (by - ay) * i / steps], bulge, photo));
  }
  return points;
}

class Straightener {
  constructor(app, photos) {
    this.app = app;
    this.photos = photos;
    this.active = false;
    this.svg = svg('svg', {class: 'stage corners', role: 'group', 'aria-label': 'Photo as it was taken'});
    this.svg.addEventListener('pointerdown', (event) => this.down(event));
    this.svg.addEventListener('pointermove', (event) => this.move(event));
    for (const kind of ['pointerup', 'pointercancel']) this.svg.addEventListener(kind, () => this.up());
    this.svg.addEventListener('keydown', (event) => this.key(event));
    new ResizeObserver(() => this.active && this.draw()).observe(this.svg);
  }

  get path() {
    return ['photos', this.photos.nameOf(this.app.face)];
  }

  async begin() {
    this.active = true;
    this.url = await this.photos.of(this.app.face).pictureUrl();
    this.app.stage.node.append(this.svg);
    this.app.stage.svg.setAttribute('visibility', 'hidden');
    this.app.stage.svg.setAttribute('aria-hidden', 'true');
    this.drawControls();
    this.draw();
    const first = this.svg.querySelector('[data-corner]');
    if (first) first.focus({preventScroll: true});
  }

  end() {
    if (!this.active) return;
    this.active = false;
    this.svg.remove();
    this.app.stage.svg.removeAttribute('visibility');
    this.app.stage.svg.removeAttribute('aria-hidden');
    this.photos.lay();
    this.photos.draw();
    this.app.draw();
  }

  /** Whether two points state the face's place. */
  get byPoints() {
    return this.app.text.has([...this.path, 'two-points']);
  }

  get listPath() {
    return [...this.path, this.byPoints ? 'two-points' : 'corners'];
  }

  places() {
    const node = this.app.text.node(this.listPath);
    return YAML.isSeq(node) ? node.items.map((item) => item.items.map((v) => Number(v.value))) : [];
  }

  setPlaces(places) {
    this.app.change(this.app.text.set(this.listPath, places.map((place) => place.map((v) => (Math.round(v * 10) / 10).toString()))));
    this.draw();
  }

  scale() {
    const photo = this.photos.of(this.app.face), {clientWidth, clientHeight} = this.app.stage.node;
    return Math.min((clientWidth - 40) / photo.width, (clientHeight - 40) / photo.height);
  }

  draw() {
    const photo = this.photos.of(this.app.face);
    if (!photo) return this.end();
    const {clientWidth: w, clientHeight: h} = this.app.stage.node, scale = this.scale(), places = this.places();
    const bulge = Number(this.app.text.value([...this.path, 'bulge']) || 0);
    const words = this.byPoints ? ['first point', 'second point'] : CORNER_WORDS[this.app.face];
    const focused = this.svg.contains(document.activeElement) && document.activeElement.dataset.corner;
    const [left, top] = [(photo.width - w / scale) / 2, (photo.height - h / scale) / 2];
    fill(this.svg, {width: w, height: h, viewBox: [left, top, w / scale, h / scale].map(px).join(' ')}, []);
    const centre = places.reduce(([x, y], p) => [x + p[0] / places.length, y + p[1] / places.length], [0, 0]);
    this.svg.replaceChildren(
        svg('image', {href: this.url, x: 0, y: 0, width: photo.width, height: photo.height}),
        svg('polyline', {
          class: 'frame',
          points: bentOutline(places, bulge, photo, places.length === 4).map((p) => p.map(px).join(',')).join(' ')
        }),
        ...places.map(([x, y], k) => {
          const out = Math.hypot(x - centre[0], y - centre[1]) || 1, reach = 22 / scale;
          const tx = x - (x - centre[0]) / out * reach, ty = y - (y - centre[1]) / out * reach;
          return svg(
              'g', {
                'data-corner': k,
                tabindex: 0,
                role: 'button',
                class: 'corner',
                'aria-label': `Corner ${words[k]}: ${Math.round(x)}, ${Math.round(y)}`
              },
              svg('circle', {cx: px(x), cy: px(y), r: px(22 / scale), class: 'reach'}),
              svg('circle', {cx: px(x), cy: px(y), r: px(9 / scale), class: 'ring'}),
              svg('line', {x1: px(x - 9 / scale), x2: px(x + 9 / scale), y1: px(y), y2: px(y)}),
              svg('line', {y1: px(y - 9 / scale), y2: px(y + 9 / scale), x1: px(x), x2: px(x)}),
              svg('text', {x: px(tx), y: px(ty), 'text-anchor': x < centre[0] ? 'start' : 'end', 'font-size': px(13 / scale)}, words[k]));
        }),
        ...this.loupe(scale, [left, top, w / scale, h / scale]));
    if (focused !== null && focused !== false && focused !== undefined) {
      const again = this.svg.querySelector(`[data-corner="${focused}"]`);
      if (again) again.focus({preventScroll: true});
    }
  }

  /** The picture around the corner in hand, enlarged: a finger hides what is below it. */
  loupe(scale, [left, top, width]) {
    if (this.dragged === undefined) return [];
    const photo = this.photos.of(this.app.face), [x, y] = this.places()[this.dragged], r = 62 / scale, zoom = 4;
    const atLeft = x > left + width / 2, cx = atLeft ? left + r * 1.2 : left + width - r * 1.2, cy = top + r * 1.2;
    return [
      svg('clipPath', {id: 'loupe'}, svg('circle', {cx, cy, r})),
      svg('g', {'clip-path': 'url(#loupe)'},
          svg('rect', {x: cx - r, y: cy - r, width: 2 * r, height: 2 * r, class: 'face'}),
          svg('image', {href: this.url, x: cx - x * zoom, y: cy - y * zoom, width: photo.width * zoom, height: photo.height * zoom})),
      svg('circle', {cx, cy, r, class: 'ring'}), svg('line', {x1: cx - r, x2: cx + r, y1: cy, y2: cy, class: 'hair'}),
      svg('line', {y1: cy - r, y2: cy + r, x1: cx, x2: cx, class: 'hair'})
    ];
  }

  place(event) {
    const box = this.svg.getBoundingClientRect(), view = this.svg.viewBox.baseVal;
    return [
      view.x + (event.clientX - box.left) * view.width / box.width,
      view.y + (event.clientY - box.top) * view.height / box.height
    ];
  }

  down(event) {
    const corner = event.target.closest('[data-corner]');
    if (!corner) return;
    event.preventDefault();
    this.svg.setPointerCapture(event.pointerId);
    this.dragged = Number(corner.dataset.corner);
    corner.focus({preventScroll: true});
    const [x, y] = this.places()[this.dragged], at = this.place(event);
    this.offset = [x - at[0], y - at[1]];
    this.app.beginStep();
    this.draw();
  }

  move(event) {
    if (this.dragged === undefined) return;
    this.last = event;
    this.waiting ??= requestAnimationFrame(() => {
      this.waiting = null;
      if (this.dragged === undefined) return;
      const at = this.place(this.last), places = this.places();
      places[this.dragged] = [at[0] + this.offset[0], at[1] + this.offset[1]];
      this.setPlaces(places);
    });
  }

  up() {
    if (this.dragged === undefined) return;
    if (this.waiting) {
      cancelAnimationFrame(this.waiting);
      this.waiting = null;
      const at = this.place(this.last), places = this.places();
      places[this.dragged] = [at[0] + this.offset[0], at[1] + this.offset[1]];
      this.setPlaces(places);
    }
    this.dragged = undefined;
    this.app.endStep();
    this.draw();
  }

  key(event) {
    const step = {ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1]}[event.key];
    const corner = event.target.closest('[data-corner]');
    if (event.key === 'Enter') return event.preventDefault(), event.stopPropagation(), this.end();
    if (!step || !corner) return;
    event.preventDefault();
    event.stopPropagation();
    const places = this.places(), k = Number(corner.dataset.corner), by = event.shiftKey ? 20 : 1;
    places[k] = [places[k][0] + by * step[0], places[k][1] + by * step[1]];
    this.setPlaces(places);
  }

  // --- what stands below -------------------------------------------------------------------------

  drawControls() {
    const {text} = this.app, bulge = Number(text.value([...this.path, 'bulge']) || 0);
    const slider = el('input', {type: 'range', id: 'bulge', min: -0.1, max: 0.3, step: 0.005});
    slider.value = String(bulge);
    const said = el('output', {}, bulge.toFixed(3));
    slider.addEventListener('input', () => {
      const value = Number(slider.value);
      said.textContent = value.toFixed(3);
      const path = [...this.path, 'bulge'], now = this.app.text;
      this.app.beginStep('bulge');
      this.app.setText(value === 0 ? (now.has(path) ? now.remove(path) : now.text) : now.set(path, value.toFixed(3)));
      this.app.endStep(true);
      this.draw();
    });
    const rows = [
      el('p', {class: 'small'}, this.byPoints ?
             'Put the two points on a line from left to right along the edge of the device, and type how far apart they are.' :
             'Drag each mark onto the corner of the device that it names; turn them round if the picture stands another way up.'),
      el('div', {class: 'row'},
         this.byPoints ? this.lengthField() : button('Turn ↻', {id: 'turn', title: 'The same picture, standing another way up'}, () => this.turn()),
         button(this.byPoints ? 'By four corners' : 'By two points', {id: 'by-points'}, () => this.otherWay()),
         el('label', {class: 'row'}, 'Bulge of the lens', slider, said), button('Done', {id: 'straight-done', class: 'main'}, () => this.end()),
         button('Take the photo away', {}, () => this.photos.remove()))
    ];
    this.photos.node.replaceChildren(this.photos.input, ...rows);
  }

  lengthField() {
    const path = [...this.path, 'length'], input = el('input', {type: 'text', id: 'two-length', size: 9, autocomplete: 'off'});
    input.value = this.app.text.value(path) || '';
    input.placeholder = mm(this.app.faceView().size[FACE_AXES[this.app.face === 'inside' ? 'base' : this.app.face][0]]);
    input.addEventListener('change', () => this.app.type({path, unit: 'mm'}, input.value));
    return el('label', {class: 'row'}, 'Length between them', input);
  }

  /** Each corner becomes the next one: the picture stands a quarter turn on. */
  turn() {
    const places = this.places();
    this.setPlaces([...places.slice(1), places[0]]);
  }

  /** From four corners to two points, or back; what was there stays where it was as far as it can. */
  otherWay() {
    const path = this.path, places = this.places(), photo = this.photos.of(this.app.face);
    const round = (list) => list.map((p) => p.map((v) => v.toFixed(1)));
    if (this.byPoints) {
      const {width: w, height: h} = photo;
      const corners = this.photos.cornersOf([[w * 0.1, h * 0.1], [w * 0.9, h * 0.1], [w * 0.9, h * 0.9], [w * 0.1, h * 0.9]]);
      this.app.change(withEntries(this.app.text, [
        [[...path, 'two-points'], undefined], [[...path, 'length'], undefined], [[...path, 'start'], undefined],
        [[...path, 'corners'], round(corners)]
      ]));
    } else {
      this.app.change(withEntries(this.app.text, [[[...path, 'corners'], undefined], [[...path, 'two-points'], round(places.slice(0, 2))]]));
    }
    this.drawControls();
    this.draw();
  }
}
