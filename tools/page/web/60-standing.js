// The device as it stands in the room: turned by its pose, seen a little from above, with arrows at its
// vents.

/** A camera without perspective: right, up and towards the reader in the room's frame (z up). */
function camera(azimuth, elevation) {
  const ca = Math.cos(azimuth), sa = Math.sin(azimuth), ce = Math.cos(elevation), se = Math.sin(elevation);
  return {right: [ca, -sa, 0], up: [sa * se, ca * se, ce], towards: [-sa * ce, -ca * ce, se]};
}

const CORNERS = [[0, 0, 0], [1, 0, 0], [1, 1, 0], [0, 1, 0], [0, 0, 1], [1, 0, 1], [1, 1, 1], [0, 1, 1]];
const BOX_FACES = [
  {normal: [0, 0, -1], corners: [0, 1, 2, 3]}, {normal: [0, 0, 1], corners: [4, 5, 6, 7]},
  {normal: [0, -1, 0], corners: [0, 1, 5, 4]}, {normal: [0, 1, 0], corners: [3, 2, 6, 7]},
  {normal: [-1, 0, 0], corners: [0, 3, 7, 4]}, {normal: [1, 0, 0], corners: [1, 2, 6, 5]}
];

function isInside(polygon, [x, y]) {
  let inside = false;
  for (let i = 0, k = polygon.length - 1; i < polygon.length; k = i++) {
    const [xi, yi] = polygon[i], [xk, yk] = polygon[k];
    if (yi > y !== yk > y && x < ((xk - xi) * (y - yi)) / (yk - yi) + xi) inside = !inside;
  }
  return inside;
}

class Standing {
  /** `alike`: what is to be drawn to one scale with this one, {poses, results}; by default this one alone. */
  constructor(device, result, poseToWorld, support, lidAngle, width, alike = {}) {
    Object.assign(this, {device, result, pose: poseToWorld, support, lidAngle, width});
    this.height = Math.round(Math.min(Math.max(0.56 * width, 270), 440));
    this.camera = camera(0.5, 0.42);
    this.centre = times(device.size_m, 0.5);
    this.most =
        Math.max(...(alike.results || [result]).map((r) => largestFlow(r.vents, r.room_density_kg_m3)));
    this.drawn = [];
    this.placer = new Placer();
    this.corners = CORNERS.map((c) => c.map((v, i) => v * device.size_m[i]));
    this.fit(alike.poses || [poseToWorld]);
    this.root =
        svg('svg',
            {viewBox: `0 0 ${px(width)} ${this.height}`, width: px(width), height: this.height, role: 'img'});
  }

  /** Room coordinates about the device's middle. */
  world(point) {
    return through(this.pose, minus(point, this.centre));
  }
  project(world) {
    return [
      this.origin[0] + this.scale * dot(world, this.camera.right),
      this.origin[1] - this.scale * dot(world, this.camera.up)
    ];
  }
  at(point) {
    return this.project(this.world(point));
  }

  lidCorners() {
    if (!this.device.lid || this.lidAngle === null || this.lidAngle === undefined) return null;
    const [x, y, z] = this.device.size_m, a = (this.lidAngle * Math.PI) / 180;
    const far = [-Math.cos(a) * y, Math.sin(a) * y];
    return [[0, y, z], [x, y, z], [x, y + far[0], z + far[1]], [0, y + far[0], z + far[1]]];
  }

  fit(poses) {
    this.origin = [0, 0];
    this.scale = 1;
    const all = this.corners.concat(this.lidCorners() || []), own = this.pose;
    const box = boxAround(poses.flatMap((pose) => {
      this.pose = pose;
      return all.map((c) => this.at(c));
    }));
    this.pose = own;
    const side = this.width < 520 ? 84 : 130, above = 66, middle = middleOf(box);
    this.scale = Math.min(
        (this.width - 2 * side) / (box.right - box.left), (this.height - 2 * above) / (box.bottom - box.top));
    this.origin = [this.width / 2 - middle[0] * this.scale, this.height / 2 - middle[1] * this.scale];
  }

  polygon(corners, kind, attributes) {
    this.placer.shunEdges(corners.map((c) => this.at(c)), 8);
    return svg('polygon', {points: points(corners.map((c) => this.at(c))), class: kind, ...attributes});
  }

  /** What it lies on, drawn where the device's lowest point is. */
  ground() {
    if (!['hard', 'soft', 'lap'].includes(this.support)) return;
    const worlds = this.corners.map((c) => this.world(c));
    const base = dot(through(this.pose, [0, 0, -1]), [0, 0, -1]) > 0.99;
    const z =
        Math.min(...worlds.map((w) => w[2])) - (base && this.support === 'hard' ? this.device.feet_m : 0);
    const m = 0.08 * Math.max(...this.device.size_m);
    const xs = worlds.map((w) => w[0]), ys = worlds.map((w) => w[1]);
    const [x0, x1, y0, y1] =
        [Math.min(...xs) - m, Math.max(...xs) + m, Math.min(...ys) - m, Math.max(...ys) + m];
    const rise = this.support === 'hard' ? 0 : 0.35 * Math.min(...this.device.size_m);
    const flat = [[x0, y0, z], [x1, y0, z], [x1, y1, z], [x0, y1, z]];
    this.root.append(svg('polygon', {points: points(flat.map((w) => this.project(w))), class: 'ground'}));
    if (rise > 0) {
      const bulge = flat.map((w) => [w[0] * 1.04, w[1] * 1.06, z + rise]);
      this.root.append(svg(
          'polygon',
          {points: points(bulge.map((w) => this.project(w))), class: 'ground', 'stroke-dasharray': '2 4'}));
    }
  }

  isSeen(normal) {
    return dot(through(this.pose, normal), this.camera.towards) > 1e-6;
  }

  lid(front) {
    const corners = this.lidCorners();
    if (!corners) return;
    const middle = times(plus(corners[2], corners[3]), 0.5);
    const isFront = dot(this.world(middle), this.camera.towards) > 0.3 * this.device.size_m[1];
    if (isFront === front) this.root.append(this.polygon(corners, 'lid'));
  }

  body() {
    this.silhouette = [];
    for (const face of BOX_FACES) {
      if (!this.isSeen(face.normal)) continue;
      const corners = face.corners.map((i) => this.corners[i]);
      const light = through(this.pose, face.normal);
      this.silhouette.push(corners.map((c) => this.at(c)));
      this.root.append(this.polygon(corners, 'face-side' + (light[2] < 0.3 ? ' shade1' : '')));
    }
  }

  vent({vent, result}) {
    const [a, b] = vent.axes, [w, h] = vent.size_m;
    const corners = [[-1, -1], [1, -1], [1, 1], [-1, 1]].map(
        ([i, k]) => plus(vent.centre_m, plus(times(a, (i * w) / 2), times(b, (k * h) / 2))));
    const seen = this.isSeen(vent.normal);
    const shape = this.polygon(
        corners, seen ? 'tint-role' : 'line-role',
        {'data-vent': shown(vent.name, 200), 'stroke-width': 1.4, 'stroke-dasharray': seen ? null : '3 3'});
    this.root.append(svg('g', {class: roleClass(result)}, shape));
    this.placer.shun(boxAround(corners.map((c) => this.at(c))), 0.5);
  }

  /** Where a ray from a point leaves the body on the page. */
  leaves(from, unit) {
    for (let t = 0; t < 400; t += 2) {
      const p = [from[0] + t * unit[0], from[1] + t * unit[1]];
      if (!this.silhouette.some((polygon) => isInside(polygon, p))) return t;
    }
    return 0;
  }

  /** Where a vent's arrow stands: its middle, or beside it along the vent, clear of the arrows before it. */
  footOf(vent, unit, seen, streams) {
    const reach = Math.max(16, ...streams.map((s) => Math.max(SHORTEST, LONGEST * s.flow / this.most)));
    const middle = this.at(vent.centre_m);
    for (const part of [0, 0.3, -0.3, 0.6, -0.6, 0.8, -0.8]) {
      const start = this.at(plus(vent.centre_m, times(vent.axes[0], (part * vent.size_m[0]) / 2)));
      const clear = seen ? 0 : this.leaves(start, unit);
      const box = boxAround([clear, clear + reach + 5].map((t) => start.map((c, k) => c + t * unit[k])), 9);
      if (!this.drawn.some((b) => overlap(b, box))) return start;
    }
    return middle;
  }

  arrowsOf({vent, result}) {
    const n = through(this.pose, vent.normal), across = [dot(n, this.camera.right), -dot(n, this.camera.up)];
    const length = Math.hypot(...across), unit = length > 0.05 ? across.map((c) => c / length) : [0, 1];
    const edge = [-unit[1], unit[0]], seen = this.isSeen(vent.normal), boxes = [];
    const streams = streamsOf(result, this.result.room_density_kg_m3);
    const start = this.footOf(vent, unit, seen, streams), clear = seen ? 0 : this.leaves(start, unit);
    const group = svg('g', {class: roleClass(result)});
    if (clear > 6 && streams.length) {
      group.append(svg('line', {
        x1: px(start[0]),
        y1: px(start[1]),
        x2: px(start[0] + clear * unit[0]),
        y2: px(start[1] + clear * unit[1]),
        class: 'line-role',
        'stroke-dasharray': '2 3'
      }));
    }
    streams.forEach((stream) => {
      const aside = streams.length > 1 ? asideOf(stream, edge, [0, -1]) : 0;
      const reach = Math.max(SHORTEST, LONGEST * stream.flow / this.most);
      const near = start.map((c, k) => c + (clear + 5) * unit[k] + aside * edge[k]);
      const far = near.map((c, k) => c + reach * unit[k]);
      const tags = {
        'data-vent': shown(vent.name, 200),
        'data-direction': stream.out ? 'out' : 'in',
        'data-flow': stream.flow.toPrecision(6)
      };
      group.append(stream.out ? arrow(near, far, 13, true, tags) : arrow(far, near, 13, false, tags));
      boxes.push(boxAround([near, far], 7));
    });
    if (!streams.length) {
      const at = start.map((c, k) => c + (clear > 6 ? clear + 10 : 0) * unit[k]);
      group.append(mark(doing(result), at[0], at[1], 7.5));
      boxes.push(boxAround([at], 8));
    }
    boxes.forEach((b) => {
      this.placer.block(b);
      this.drawn.push(b);
    });
    this.root.append(group);
    return boxAround(boxes.flatMap((b) => [[b.left, b.top], [b.right, b.bottom]]));
  }

  name({vent, result}, anchor) {
    const room = {left: 2, top: 2, right: this.width - 2, bottom: this.height - 2};
    const density = this.result.room_density_kg_m3, small = this.width < 520;
    const lines = [
      {text: isolated(vent.name, 40), bold: true},
      ...flowLines(result, density).map((text) => ({text, bold: true, kind: 'role-name'}))
    ];
    const attributes = {class: roleClass(result), 'data-label': shown(vent.name, 200)};
    const most = small ? 120 : 170;
    return writeLabel(this.root, this.placer, anchor, room, lines, small ? 12 : 13, most, attributes) ||
        writeLabel(this.root, this.placer, anchor, room, lines.slice(0, 1), 12, most, attributes);
  }

  draw() {
    this.ground();
    this.lid(false);
    this.body();
    const entries = this.device.vents.map((vent, i) => ({vent, result: this.result.vents[i]}))
                        .filter(({vent}) => !vent.leak);
    entries.forEach((entry) => this.vent(entry));
    this.lid(true);
    const anchors = entries.map((entry) => this.arrowsOf(entry));
    this.leftOut = entries.filter((entry, i) => !this.name(entry, anchors[i]))
                       .map((entry) => shown(entry.vent.name, 40));
    return this.root;
  }
}

/** The device in its pose as a figure with its words. */
function standingFigure(device, result, setting, width, caption, alike) {
  const standing = new Standing(
      device, result, setting.pose_to_world, setting.support_kind, setting.lid_deg, width, alike);
  const root = standing.draw();
  root.setAttribute(
      'aria-label',
      `${shown(device.name)} as it stands, ${shown(caption, 200)}. ${ventSentences(device, result)}`);
  const left =
      standing.leftOut.length ? ` No room to write at: ${standing.leftOut.join(', ')}; see the table.` : '';
  return el('figure', {class: 'standing'}, root, el('figcaption', {}, shown(caption, 200) + '.' + left));
}
