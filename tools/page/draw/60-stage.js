// The stage: one face with its photo, the things on it, and what the air does there. It only draws; what a
// pointer or a key does is in 64-hands.js.

const MARGIN = 84;         // around the face, for arrows [px]
const HANDLE = 6;          // half a handle [px]
const LONGEST = 46, SHORTEST = 12;  // arrows [px]
const HANDLES = [[-1, -1], [0, -1], [1, -1], [1, 0], [1, 1], [0, 1], [-1, 1], [-1, 0]];

/** What an arrow looks like: its outline from a foot along a unit vector [mm]. */
function arrowPoints([x, y], [dx, dy], length, width) {
  const head = Math.min(length * 0.55, width * 1.3), shaft = width * 0.42, nx = -dy, ny = dx;
  const point = (along, aside) => `${px(x + dx * along + nx * aside)},${px(y + dy * along + ny * aside)}`;
  return [
    point(0, shaft / 2), point(length - head, shaft / 2), point(length - head, width / 2), point(length, 0),
    point(length - head, -width / 2), point(length - head, -shaft / 2), point(0, -shaft / 2)
  ].join(' ');
}

class Stage {
  constructor(app) {
    this.app = app;
    this.views = {};  // zoom and middle of each face
    this.svg = svg('svg', {class: 'stage', role: 'group', 'aria-label': 'Drawing', tabindex: -1});
    this.node = el('div', {class: 'stage-frame'}, this.svg);
    new ResizeObserver(() => this.draw()).observe(this.node);
  }

  get view() {
    return this.app.faceView();
  }

  /** Zoom and middle: what is shown of the face. */
  camera() {
    const {face} = this.app;
    return (this.views[face] ??= {zoom: 1, x: 0, y: 0});
  }

  /** Pixels a millimetre. */
  get scale() {
    const view = this.view, {clientWidth: width, clientHeight: height} = this.node;
    const margin = Math.min(MARGIN, width / 6, height / 5);
    const fit = Math.min((width - 2 * margin) / view.width, (height - 2 * margin) / view.height);
    return Math.max(fit, 0.05) * this.camera().zoom;
  }

  /** A place of the screen on the stage [mm]. */
  place(event) {
    const box = this.svg.getBoundingClientRect(), camera = this.camera(), scale = this.scale;
    return [
      (event.clientX - box.left - box.width / 2) / scale + camera.x,
      (event.clientY - box.top - box.height / 2) / scale + camera.y
    ];
  }

  /** Zooms by a factor about a place [mm], or the middle. */
  zoom(factor, about) {
    const camera = this.camera(), before = camera.zoom;
    camera.zoom = Math.min(40, Math.max(0.5, before * factor));
    if (about) {
      const k = 1 - before / camera.zoom;
      camera.x += (about[0] - camera.x) * k;
      camera.y += (about[1] - camera.y) * k;
    }
    this.draw();
  }

  fit() {
    this.views[this.app.face] = {zoom: 1, x: 0, y: 0};
    this.draw();
  }

  /** Things of a view: those drawn in full, and those that show through. */
  shown() {
    const {app} = this, {face} = app, inside = face === 'inside';
    const full = [], ghosts = [];
    for (const [section, kind] of Object.entries(THINGS)) {
      for (const thing of app.shapes[section] || []) {
        if (thing.leak || !app.text.has([section, thing.name])) continue;
        if (section === 'sources' && !thing.placed) continue;
        const box = kind.box(thing), item = {section, kind, thing, ...box, key: `${section}/${thing.name}`};
        if (kind.inside)
          (inside ? full : section === 'fans' || section === 'fins' ? ghosts : []).push(item);
        else if (thing.face === face || (thing.face === 'hinge' && face === 'rear'))
          full.push(item);
        else if (inside && (thing.face === 'base' || thing.face === 'top') && section === 'vents')
          ghosts.push(item);
      }
    }
    const order = Object.keys(THINGS);
    full.sort((a, b) => order.indexOf(a.section) - order.indexOf(b.section) || this.area(b) - this.area(a));
    return {full, ghosts};
  }

  area({centre, size}) {
    const {w, h} = this.view.box(centre, size);
    return w * h;
  }

  /** The box of an item on the stage [mm]; a slot across the edge keeps the thickness that can be seen. */
  boxOf(item) {
    const box = this.view.box(item.centre, item.size), least = 3 / this.scale;
    return {...box, w: Math.max(box.w, least), h: Math.max(box.h, least)};
  }

  draw() {
    const {clientWidth: width, clientHeight: height} = this.node;
    if (!width || !height) return;
    const scale = this.scale, camera = this.camera(), view = this.view;
    const focused = document.activeElement && this.svg.contains(document.activeElement) ?
        document.activeElement.dataset.key || document.activeElement.dataset.handle :
        null;
    fill(this.svg, {
      width,
      height,
      viewBox: [camera.x - width / 2 / scale, camera.y - height / 2 / scale, width / scale, height / scale]
                   .map(px)
                   .join(' ')
    }, []);
    const {full, ghosts} = this.shown();
    const flows = this.flows();
    const shownThings = full.map((item) => this.thing(item, flows));
    this.svg.replaceChildren(
        ...this.ground(view), svg('g', {class: 'ghosts'}, ghosts.map((item) => this.ghost(item))),
        svg('g', {class: 'edges'}, this.edgeVents(flows)), ...shownThings, ...this.holes(full),
        svg('g', {class: 'air'}, full.map((item) => this.air(item, flows))),
        svg('g', {class: 'labels'}, full.map((item) => this.label(item, flows))),
        svg('g', {class: 'guides'}, this.app.guides.map((g) => svg('line', g))), ...this.preview(), ...this.handles());
    if (focused) {
      const again = this.svg.querySelector(`[data-key="${CSS.escape(focused)}"]`);
      if (again && document.activeElement !== again) again.focus({preventScroll: true});
    }
  }

  /** The face with its photo, and where gravity pulls. */
  ground(view) {
    const {width: w, height: h} = view, photo = this.app.photos.straight(this.app.face);
    const box = {x: -w / 2, y: -h / 2, width: w, height: h};
    return [
      svg('rect', {...box, class: 'face'}),
      photo && svg('image', {...box, href: photo, preserveAspectRatio: 'none', class: 'photo'}),
      svg('rect', {...box, class: 'outline'}),
    ].filter(Boolean);
  }

  /** What counts as open in the photo, over its vent; holes shown by hand. */
  holes(full) {
    const {mask, points, asked} = this.app.openArea, item = full.find((one) => one.key === asked);
    if (!item || this.app.selected !== asked) return [];
    const {x, y, w, h} = this.boxOf(item), marks = [];
    if (mask && mask.key === asked)
      marks.push(svg('image', {x: px(x - w / 2), y: px(y - h / 2), width: px(w), height: px(h), href: mask.url, preserveAspectRatio: 'none', class: 'mask', ...this.turning(item)}));
    for (const place of points || []) {
      const point = [...item.centre];
      FACE_AXES[item.thing.face].forEach((axis, k) => (point[axis] = place[k]));
      const [a, b] = this.view.at(point);
      marks.push(svg('circle', {cx: px(a), cy: px(b), r: px(4 / this.scale), class: 'draft-point'}));
    }
    return marks;
  }

  /** An attribute that turns what is drawn upright as the thing is turned. */
  turning(item) {
    const {x, y} = this.boxOf(item), turn = this.view.turnOf(item.thing);
    return turn ? {transform: `rotate(${px(-turn)} ${px(x)} ${px(y)})`} : {};
  }

  shape(item, attributes) {
    const {x, y, w, h} = this.boxOf(item);
    if (item.kind.round && Math.abs(w - h) < 1e-6)
      return svg('circle', {cx: px(x), cy: px(y), r: px(w / 2), ...attributes});
    return svg('rect', {x: px(x - w / 2), y: px(y - h / 2), width: px(w), height: px(h), ...this.turning(item), ...attributes});
  }

  ghost(item) {
    return this.shape(item, {class: 'ghost ' + item.section});
  }

  /** A thing that can be chosen, moved and resized. */
  thing(item, flows) {
    const {section, thing, key} = item, flow = section === 'vents' ? flows.get(thing.name) : null;
    const chosen = this.app.selected === key, unplaced = section === 'fans' && !this.app.text.has(['fans', thing.name, 'at']);
    const does = flow ? ', ' + flow.words : '';
    const [x, y] = this.edges(item);
    return svg(
        'g', {
          class: ['thing', section, chosen && 'chosen', flow && 'role-' + flow.role, unplaced && 'unplaced'].filter(Boolean).join(' '),
          'data-key': key,
          tabindex: 0,
          role: 'button',
          'aria-pressed': String(chosen),
          'aria-label': `${item.kind.title} ${thing.name}${does}; ${x}, ${y}`
        },
        this.shape(item, {class: 'body'}), item.section === 'fins' ? this.channels(item) : null,
        item.section === 'vents' ? this.grille(item) : null);
  }

  /** Where a thing lies, by its distances to the edges that are nearest to hand. */
  edges(item) {
    const {x, y, w, h} = this.view.heldBox(item), view = this.view;
    return [
      `${millimetreNumber((x - w / 2 + view.width / 2) / 1000)} mm from the left of the picture`,
      `${millimetreNumber((y - h / 2 + view.height / 2) / 1000)} mm from its top, ${millimetreNumber(w / 1000)} by ${
          millimetreNumber(h / 1000)} mm`
    ];
  }

  channels(item) {
    const {x, y, w, h} = this.boxOf(item), lines = [];
    const vertical = finAxis(item.thing) === Y, step = Math.max(4 / this.scale, 1.3);
    const [across, along] = vertical ? [w, h] : [h, w];
    for (let at = -across / 2 + step; at < across / 2; at += step)
      lines.push(vertical ? svg('line', {x1: px(x + at), x2: px(x + at), y1: px(y - along / 2), y2: px(y + along / 2)}) :
                            svg('line', {y1: px(y + at), y2: px(y + at), x1: px(x - along / 2), x2: px(x + along / 2)}));
    return svg('g', {class: 'pattern'}, lines);
  }

  /** A hint of what the grille looks like. */
  grille(item) {
    if (item.thing.kind === 'open') return null;
    const {x, y, w, h} = this.boxOf(item), step = Math.max(7 / this.scale, 2), lines = [];
    const long = w >= h, dots = item.thing.kind !== 'slots' && item.thing.kind !== 'louvre';
    for (let at = -(long ? w : h) / 2 + step / 2; at < (long ? w : h) / 2 && lines.length < 200; at += step) {
      lines.push(long ? svg('line', {x1: px(x + at), x2: px(x + at), y1: px(y - h / 2), y2: px(y + h / 2)}) :
                        svg('line', {y1: px(y + at), y2: px(y + at), x1: px(x - w / 2), x2: px(x + w / 2)}));
    }
    return svg('g', {class: 'pattern' + (dots ? ' dotted' : ''), ...this.turning(item)}, lines);
  }

  /** What the air does at each vent of the solution shown: by name. */
  flows() {
    const {solution} = this.app, flows = new Map();
    if (!solution || !solution.solved) return flows;
    const density = solution.room_density_kg_m3;
    for (const vent of solution.vents) {
      const streams = streamsOf(vent, density);
      const words = streams.length ? streams.map((s) => (s.out ? 'out ' : 'in ') + flowText(s.flow)).join(', ') :
                                     this.app.words.roles[doing(vent)];
      flows.set(vent.vent, {role: doing(vent), streams, words, firm: vent.firm});
    }
    return flows;
  }

  largest() {
    const {solution} = this.app;
    if (!solution || !solution.solved) return 1;
    return Math.max(1e-9, ...solution.vents.flatMap((v) => streamsOf(v, solution.room_density_kg_m3).map((s) => s.flow)));
  }

  arrow(stream, foot, out) {
    const scale = this.scale, share = Math.sqrt(stream.flow / this.largest());
    const length = (SHORTEST + (LONGEST - SHORTEST) * share) / scale, width = (9 + 9 * share) / scale, gap = 3 / scale;
    const [x, y] = foot, [dx, dy] = out;
    const from = stream.out ? gap : gap + length, sense = stream.out ? 1 : -1;
    return svg('polygon', {
      points: arrowPoints([x + dx * from, y + dy * from], [dx * sense, dy * sense], length, width),
      class: stream.out ? 'arrow out' : 'arrow in',
      'data-flow': stream.flow.toPrecision(6)
    });
  }

  /** Arrows beside a vent that is looked at: towards it for air that goes in, away for air that comes out. */
  air(item, flows) {
    const flow = item.section === 'vents' ? flows.get(item.thing.name) : null;
    if (!flow) return null;
    const {x, y, w, h} = this.boxOf(item), wide = w >= h;
    const slot = item.thing.face === 'hinge';  // at the upper edge: its air passes above
    const sides = slot ? [[[x - (flow.streams.length === 2 ? 12 / this.scale : 0), y - h / 2], [0, -1]],
                          ...(flow.streams.length === 2 ? [[[x + 12 / this.scale, y - h / 2], [0, -1]]] : [])] :
        this.ends(item, wide);
    const marks = flow.streams.length === 2 ?
        flow.streams.map((stream, k) => this.arrow(stream, ...sides[k])) :
        flow.streams.flatMap((stream) => sides.map((side) => this.arrow({...stream, flow: stream.flow}, ...side)));
    if (!marks.length) marks.push(svg('circle', {cx: px(x), cy: px(y), r: px(6 / this.scale), class: 'calm'}));
    return svg('g', {class: 'role-' + flow.role, 'data-vent': item.thing.name, 'data-role': flow.role}, marks);
  }

  /** The middles of a box's long sides, and the ways out of it there. */
  ends(item, wide) {
    const {x, y, w, h} = this.boxOf(item), turn = this.view.turnOf(item.thing);
    return [-1, 1].map((sense) => {
      const out = turnedBy(wide ? [0, sense] : [sense, 0], turn), reach = (wide ? h : w) / 2;
      return [[x + out[0] * reach, y + out[1] * reach], out];
    });
  }

  /** Vents of faces that are seen from their edge: a bar, and one arrow across it. */
  edgeVents(flows) {
    const {app} = this, view = this.view, scale = this.scale, marks = [];
    for (const vent of app.shapes.vents) {
      if (vent.leak || vent.face === app.face || (vent.face === 'hinge' && app.face === 'rear')) continue;
      const out = view.edgeOf(vent.face), flow = flows.get(vent.name);
      if (!out) continue;
      const box = view.box(vent.centre, faceExtents(vent.face, extentsOf(vent))), upright = out[0] !== 0, thick = 5 / scale;
      const foot = [
        out[0] ? out[0] * view.width / 2 : box.x, out[1] ? out[1] * view.height / 2 : box.y
      ];
      const [w, h] = upright ? [thick, Math.max(box.h, thick)] : [Math.max(box.w, thick), thick];
      const streams = flow ? flow.streams : [];
      const aside = streams.length === 2 ? 12 / scale : 0;
      const reach = (streams.length ? LONGEST * Math.sqrt(Math.max(...streams.map((s) => s.flow)) / this.largest()) + SHORTEST + 8 : 12) / scale;
      marks.push(svg(
          'g', {class: 'edge ' + (flow ? 'role-' + flow.role : ''), 'data-vent': vent.name, 'data-role': flow && flow.role},
          svg('rect', {x: px(foot[0] - w / 2), y: px(foot[1] - h / 2), width: px(w), height: px(h)}),
          streams.map((stream, k) => this.arrow(
                          stream, [foot[0] + (upright ? 0 : (k - 0.5) * 2 * aside * (aside ? 1 : 0)),
                                   foot[1] + (upright ? (k - 0.5) * 2 * aside * (aside ? 1 : 0) : 0)], out)),
          svg('text', {
            x: px(this.within(foot[0] + out[0] * (upright ? 40 / scale : reach), textWidth(shown(vent.name, upright ? 14 : 22), 11, false))),
            y: px(foot[1] + (upright ? Math.min(h / 2 + 14 / scale, 34 / scale) : out[1] * reach + (out[1] > 0 ? 9 : -2) / scale)),
            'text-anchor': 'middle',
            'font-size': px(11 / scale)
          }, isolated(vent.name, upright ? 14 : 22))));
    }
    return marks;
  }

  /** The middle of a text of a width [px], moved so that all of it is in sight [mm]. */
  within(x, width) {
    const half = (this.node.clientWidth - width) / 2 - 4, camera = this.camera().x;
    return Math.min(camera + half / this.scale, Math.max(camera - half / this.scale, x));
  }

  label(item, flows) {
    if (this.app.openArea.asked === item.key) return null;
    const flow = item.section === 'vents' ? flows.get(item.thing.name) : null, scale = this.scale;
    const {x, y, w, h} = heldBox(this.boxOf(item), this.view.turnOf(item.thing)), size = 12;
    const name = isolated(item.thing.name, 26), words = flow ? ' ' + flow.words : '';
    const wide = textWidth(item.thing.name + words, size, true) / scale, fits = h * scale > 20 && w * scale > 20 && wide < w + 60 / scale && !item.thing.turned;
    const corner = item.section === 'zones' || item.section === 'skin';
    return svg('text', {
      class: 'name' + (flow ? ' role-' + flow.role : ''),
      x: px(corner ? x - w / 2 + 5 / scale : x),
      y: px(corner ? y - h / 2 + 15 / scale : fits ? y + 4 / scale : y - h / 2 - (w >= h && flow && flow.streams.length ? LONGEST + 8 : 5) / scale),
      'text-anchor': corner ? 'start' : 'middle',
      'font-size': px(size / scale)
    }, name, words && svg('tspan', {class: 'flow'}, words));
  }

  /** What is being drawn with the pointer. */
  preview() {
    const {draft} = this.app;
    if (!draft) return [];
    const {x, y, w, h} = draft, text = draft.round ? `⌀ ${millimetreNumber(w / 1000)} mm` : `${millimetreNumber(w / 1000)} × ${millimetreNumber(h / 1000)} mm`;
    return [
      draft.round ? svg('circle', {class: 'draft', cx: px(x), cy: px(y), r: px(w / 2)}) :
                    svg('rect', {class: 'draft', x: px(x - w / 2), y: px(y - h / 2), width: px(w), height: px(h)}),
      ...(draft.points || []).map(([a, b]) => svg('circle', {class: 'draft-point', cx: px(a), cy: px(b), r: px(3 / this.scale)})),
      svg('text', {class: 'name', x: px(x), y: px(y - h / 2 - 6 / this.scale), 'text-anchor': 'middle', 'font-size': px(13 / this.scale)}, text)
    ];
  }

  handles() {
    const item = this.app.chosenItem();
    if (!item || !this.canResize(item)) return [];
    const {x, y, w, h} = this.boxOf(item), r = HANDLE / this.scale;
    // Where a box is narrow on the screen, handles at its corners would lie over those of its sides.
    const narrow = Math.min(w, h) * this.scale < 5 * HANDLE;
    const marks = item.kind.round || narrow ? HANDLES.filter(([a, b]) => !a || !b) : HANDLES;
    const grips = marks.map(([a, b]) => {
      const cx = x + a * w / 2, cy = y + b * h / 2;
      return svg('g', {'data-handle': `${a},${b}`},
                 svg('circle', {cx: px(cx), cy: px(cy), r: px(2.6 * r), class: 'reach'}),
                 svg('rect', {x: px(cx - r), y: px(cy - r), width: px(2 * r), height: px(2 * r), class: 'grip'}));
    });
    if (item.section === 'vents' && item.thing.face !== 'hinge') grips.push(this.turnHandle(item));
    return [svg('g', {class: 'handles', 'aria-hidden': 'true', ...this.turning(item)}, grips)];
  }

  /** A round handle on a stalk, to the lower right: above and below a vent its arrows stand. */
  turnHandle(item) {
    const {x, y, w, h} = this.boxOf(item), r = HANDLE / this.scale, stalk = 3.4 * r;
    const [cx, cy] = [x + w / 2 + stalk, y + h / 2 + stalk];
    return svg('g', {'data-handle': 'turn'}, svg('line', {x1: px(x + w / 2), y1: px(y + h / 2), x2: px(cx), y2: px(cy), class: 'stalk'}),
               svg('circle', {cx: px(cx), cy: px(cy), r: px(2.2 * r), class: 'reach'}),
               svg('circle', {cx: px(cx), cy: px(cy), r: px(1.15 * r), class: 'grip'}));
  }

  canResize(item) {
    return this.shown().full.some((one) => one.key === item.key);
  }
}
