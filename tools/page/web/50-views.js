// The six views of a device, and how the device's frame lies on the page in each: to scale, like a plan.

const FRAMES = {
  top: {right: [1, 0, 0], up: [0, 1, 0], towards: [0, 0, 1], title: 'Top', remark: 'rear edge up'},
  base: {
    right: [-1, 0, 0],
    up: [0, 1, 0],
    towards: [0, 0, -1],
    title: 'Base',
    remark: 'turned over sideways, rear edge up'
  },
  front: {right: [1, 0, 0], up: [0, 0, 1], towards: [0, -1, 0], title: 'Front', remark: ''},
  rear: {right: [-1, 0, 0], up: [0, 0, 1], towards: [0, 1, 0], title: 'Rear', remark: ''},
  left: {
    right: [0, -1, 0],
    up: [0, 0, 1],
    towards: [-1, 0, 0],
    title: 'Left side',
    remark: 'front edge to the right'
  },
  right: {
    right: [0, 1, 0],
    up: [0, 0, 1],
    towards: [1, 0, 0],
    title: 'Right side',
    remark: 'front edge to the left'
  }
};
const VIEW_ROWS = [['top', 'base'], ['front', 'rear'], ['left', 'right']];

const extent = (frame, size) => [dot(size, frame.right.map(Math.abs)), dot(size, frame.up.map(Math.abs))];
/** The view in which a vent's arrow is drawn: the one that looks along its face. */
const arrowView = (face) => (face === 'base' || face === 'top' ? 'front' : 'top');

/** Room around the device in a view [px]. */
function roomsOf(kind, device, narrow) {
  const has = (...faces) => device.vents.some((v) => !v.leak && faces.includes(v.face));
  const side = narrow ? 66 : 150, plain = narrow ? 6 : 22, arrow = narrow ? 74 : 96;
  if (kind === 'top') {
    return {
      left: has('left') ? side : plain,
      right: has('right') ? side : plain,
      above: has('rear', 'hinge') ? arrow : 10,
      below: has('front') ? arrow : 14
    };
  }
  if (kind === 'front') {
    return {left: plain, right: plain, above: has('top') ? arrow : 12, below: has('base') ? arrow : 18};
  }
  return {left: plain, right: plain, above: 12, below: kind === 'base' ? 14 : 22};
}

class View {
  constructor(kind, size, scale, left, top, cell) {
    this.kind = kind;
    this.frame = FRAMES[kind];
    this.size = size;
    this.scale = scale;
    const [w, h] = extent(this.frame, size).map((e) => e * scale);
    this.chassis = {left, top, right: left + w, bottom: top + h};
    this.cell = cell;
  }

  /** A point of the device's frame on the page. */
  at(point) {
    const from = minus(point, times(this.size, 0.5)), [cx, cy] = middleOf(this.chassis);
    return [cx + this.scale * dot(from, this.frame.right), cy - this.scale * dot(from, this.frame.up)];
  }

  /** A direction on the page, y downwards. */
  direction(v) {
    return [dot(v, this.frame.right), -dot(v, this.frame.up)];
  }

  /** The corners of a rectangle with axes, as a box. */
  rectangle(item) {
    const [a, b] = item.axes, [w, h] = item.size_m;
    return boxAround([[-1, -1], [1, 1], [-1, 1], [1, -1]].map(
        ([i, k]) => this.at(plus(item.centre_m, plus(times(a, i * w / 2), times(b, k * h / 2))))));
  }

  /** An upright block given by its centre and extents. */
  block(centre, size) {
    const half = times(size, 0.5);
    return boxAround([this.at(minus(centre, half)), this.at(plus(centre, half))]);
  }
}

const HEAD = 24;

/** Places all views on a page of a width; {views, scale, height}. One column where there is little room. */
function layOutViews(device, width) {
  const narrow = width < 700, gap = 30, size = device.size_m;
  const rooms = Object.fromEntries(Object.keys(FRAMES).map((k) => [k, roomsOf(k, device, narrow)]));
  const across = (kind) => rooms[kind].left + rooms[kind].right;
  const wide = (kind) => extent(FRAMES[kind], size)[0];
  const rows = narrow ? VIEW_ROWS.flat().map((kind) => [kind]) : VIEW_ROWS;
  let scale = Math.min(440 / size[1], 320 / size[2]);
  for (const row of rows) {
    const free = width - gap * (row.length - 1) - row.reduce((sum, kind) => sum + across(kind), 0);
    scale = Math.min(scale, free / row.reduce((sum, kind) => sum + wide(kind), 0));
  }
  const views = {};
  let y = 0;
  for (const row of rows) {
    const needs = row.map((kind) => across(kind) + wide(kind) * scale);
    const spare = (width - gap * (row.length - 1) - needs.reduce((a, b) => a + b, 0)) / row.length;
    let x = 0, bottom = y;
    row.forEach((kind, i) => {
      const r = rooms[kind], cellWidth = needs[i] + spare;
      const left = x + r.left + spare / 2, top = y + HEAD + r.above;
      const height = extent(FRAMES[kind], size)[1] * scale;
      const cell = {left: x, top: y, right: x + cellWidth, bottom: top + height + r.below};
      views[kind] = new View(kind, size, scale, left, top, cell);
      bottom = Math.max(bottom, cell.bottom);
      x += cellWidth + gap;
    });
    row.forEach((kind) => {
      views[kind].cell.bottom = bottom;
    });
    y = bottom + 6;
  }
  return {views, scale, height: y, narrow};
}

/** A ring with an arrow for gravity's part in the plane; a dot towards the reader, a cross away. */
function gravitySign(frame, down, cx, cy, r) {
  const right = dot(down, frame.right), up = dot(down, frame.up), towards = dot(down, frame.towards);
  const group =
      svg('g', {'data-gravity': [right, up, towards].map((v) => (v + 0).toFixed(3)).join(' ')},
          svg('circle', {cx, cy, r, class: 'gravity', 'stroke-width': 1.1}));
  const plane = Math.hypot(right, up);
  if (plane < 0.2 && towards > 0) {
    group.append(svg('circle', {cx, cy, r: px(0.3 * r), class: 'gravity-fill'}));
  } else if (plane < 0.2) {
    const d = px(0.707 * r);
    group.append(svg('path', {
      d: `M ${cx - d} ${cy - d} L ${cx + d} ${cy + d} M ${cx - d} ${cy + d} L ${cx + d} ${cy - d}`,
      class: 'gravity'
    }));
  } else {
    const x = r * right / plane, y = -r * up / plane;
    const a = arrow([cx - x, cy - y], [cx + x, cy + y], 0.95 * r, false, {class: 'gravity-fill'});
    group.append(a);
  }
  return group;
}
