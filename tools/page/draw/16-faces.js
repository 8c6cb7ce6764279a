// Faces of the device as they are looked at: what a photo taken square on shows, and how places in the device
// lie on it. Points of the device are [x, y, z] in metres; on the stage lengths are millimetres from the
// middle of the face, to the right and downwards.

const X = 0, Y = 1, Z = 2;

/** Right, up and towards the eye, as an axis and its sense. The base is turned over sideways. */
const FACES = {
  base: {word: 'Base', right: [X, -1], up: [Y, 1], towards: [Z, -1], seen: 'from below, rear edge at the top'},
  top: {word: 'Top', right: [X, 1], up: [Y, 1], towards: [Z, 1], seen: 'from above, rear edge at the top'},
  front: {word: 'Front', right: [X, 1], up: [Z, 1], towards: [Y, -1], seen: 'from the front'},
  rear: {word: 'Rear', right: [X, -1], up: [Z, 1], towards: [Y, 1], seen: 'from behind'},
  left: {word: 'Left', right: [Y, -1], up: [Z, 1], towards: [X, -1], seen: 'from the left, front edge to the right'},
  right: {word: 'Right', right: [Y, 1], up: [Z, 1], towards: [X, 1], seen: 'from the right, front edge to the left'},
  inside: {word: 'Inside', right: [X, 1], up: [Y, 1], towards: [Z, 1], seen: 'with the cover off, from above'}
};

/** The two axes along which the case file states places on a face. */
const FACE_AXES = {
  base: [X, Y],
  top: [X, Y],
  front: [X, Z],
  rear: [X, Z],
  left: [Y, Z],
  right: [Y, Z],
  hinge: [X, Z]
};

/** A vector of the stage turned by an angle [deg], counter-clockwise as it is seen: y is downwards. */
function turnedBy([x, y], degrees) {
  const angle = degrees * Math.PI / 180, c = Math.cos(angle), s = Math.sin(angle);
  return [x * c + y * s, y * c - x * s];
}

/** The upright box that holds one which is turned about its middle. */
function heldBox(box, degrees) {
  if (!degrees) return box;
  const [c, s] = turnedBy([1, 0], degrees).map(Math.abs);
  return {...box, w: box.w * c + box.h * s, h: box.w * s + box.h * c};
}

/** One face of a device of a size, as looked at. `below`: the inside, seen with the base off. */
class FaceView {
  constructor(face, size, below = false) {
    this.face = face;
    this.size = size;
    const view = below ? FACES.base : FACES[face];
    this.right = view.right;
    this.up = view.up;
    this.towards = view.towards;
    this.seen = below ? 'with the base off, from below, rear edge at the top' : view.seen;
    this.width = 1000 * size[this.right[0]];
    this.height = 1000 * size[this.up[0]];
  }

  /** A point of the device on the stage [mm]. */
  at(point) {
    const along = ([axis, sense]) => 1000 * sense * (point[axis] - this.size[axis] / 2);
    return [along(this.right), -along(this.up)];
  }

  /** A point of the stage in the device [m]; `depth`: the coordinate that the view does not show. */
  back([x, y], depth = 0) {
    const point = [depth, depth, depth];
    point[this.right[0]] = this.right[1] * x / 1000 + this.size[this.right[0]] / 2;
    point[this.up[0]] = -this.up[1] * y / 1000 + this.size[this.up[0]] / 2;
    return point;
  }

  /** The box on the stage of a box in the device: {x, y, w, h}, x and y of its middle. */
  box(centre, size) {
    const [x, y] = this.at(centre);
    return {x, y, w: 1000 * Math.abs(size[this.right[0]]), h: 1000 * Math.abs(size[this.up[0]])};
  }

  /** How far a thing is turned as this view shows it, counter-clockwise [deg]. */
  turnOf({face, turned}) {
    if (!turned || face === 'hinge') return 0;
    const [axis, sense] = FACES[face].towards;
    return axis === this.towards[0] && sense === this.towards[1] ? turned : -turned;
  }

  /** The upright box on the stage that holds a thing. */
  heldBox({centre, size, thing}) {
    return heldBox(this.box(centre, size), this.turnOf(thing));
  }

  /** Extents in the device of a box of the stage, the third one as it was. */
  extents({w, h}, before) {
    const size = [...before];
    size[this.right[0]] = w / 1000;
    size[this.up[0]] = h / 1000;
    return size;
  }

  /** Where a face stands that is seen from its edge: unit vector out of the outline; null: not at an edge. */
  edgeOf(face) {
    const {towards: [axis, sense]} = FACES[face === 'hinge' ? 'rear' : face];
    if (axis === this.right[0]) return [sense * this.right[1], 0];
    if (axis === this.up[0]) return [0, -sense * this.up[1]];
    return null;
  }

  /** The case file's own coordinates of a point, along the axes of a face. */
  static onFace(face, point) {
    return FACE_AXES[face].map((axis) => point[axis]);
  }
}
