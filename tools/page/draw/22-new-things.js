// What is written for a thing that has just been drawn: as little as the case file needs. All else is assumed
// by the reader, and shown as assumed.

/** How deep a box inside reaches that was drawn on a plan: from the base to the top. */
function upright(view, size, box) {
  const centre = view.back([box.x, box.y]), extents = view.extents(box, [0, 0, 0]), depth = view.towards[0];
  centre[depth] = size[depth] / 2;
  extents[depth] = size[depth];
  return {centre, size: extents};
}

/**
 * A new thing of a section, drawn as a box [mm] in a view: {name, value}, or {refused}. `kind`: the cover of a
 * vent.
 */
function newThing(section, view, box, {text, shapes, kind}) {
  const device = shapes.device.size, face = view.face;
  const centre = view.back([box.x, box.y]);
  const flat = (values) => lengths(FACE_AXES[face].map((axis) => values[axis]));
  const {centre: middle, size} = upright(view, device, box);
  switch (section) {
    case 'vents':
      return {
        name: freshName(text, section, kind === 'slots' ? 'slots' : 'vent'),
        value: {face, centre: flat(centre), size: flat(view.extents(box, [0, 0, 0])), cover: kind || 'perforated'}
      };
    case 'skin':
      return {
        name: freshName(text, section, 'patch'),
        value: {face, centre: flat(centre), size: flat(view.extents(box, [0, 0, 0])), material: 'plastic'}
      };
    case 'zones':
      return {name: freshName(text, section, 'zone'), value: boxValue(middle, size)};
    case 'sources':
      return {
        name: freshName(text, section, 'chip'),
        value: {heats: {[zoneAt(shapes, text, middle)]: '100 %'}, ...boxValue(middle, [size[X], size[Y], 0])}
      };
    case 'fins':
      return newFins(box, {text, shapes, middle, size});
    case 'passages':
      return newPassage({text, shapes, middle, size});
    case 'fans':
      return newFan(box, view, {text, shapes, middle});
    default:
      return {refused: 'nothing of this kind can be drawn'};
  }
}

function boxValue(centre, size) {
  const at = (sense) => lengths([X, Y, Z].map((k) => centre[k] + sense * size[k] / 2));
  return {from: at(-1), to: at(1)};
}

/** Pitch of fins by the defaults of the reader: a gap of 1.1 mm and a fin of 0.2 mm. */
const FIN_PITCH = 1.3e-3;

function newFins(box, {text, shapes, middle, size}) {
  const height = Math.max(1e-3, shapes.device.size[Z] - 4e-3);
  return {
    name: freshName(text, 'fins', 'fins'),
    value: {
      channels: String(Math.max(1, Math.round(size[X] / FIN_PITCH))),
      height: mm(height),
      length: mm(size[Y]),
      at: lengths(middle)
    }
  };
}

function newPassage({text, shapes, middle, size}) {
  const zones = [...shapes.zones];
  if (zones.length < 2 || !text.has(['zones']))
    return {refused: 'A passage leads from one zone to another: draw two zones first.'};
  const away = (z) => Math.hypot(...[X, Y].map((k) => Math.max(0, Math.abs(middle[k] - z.centre[k]) - z.size[k] / 2)));
  const [a, b] = zones.sort((p, q) => away(p) - away(q));
  const across = size[X] < size[Y] ? X : Y, wide = across === X ? Y : X;
  const height = Math.min(a.size[Z], b.size[Z]);
  return {
    name: freshName(text, 'passages', 'passage'),
    value: {
      between: [a.name, b.name],
      across: 'xyz'[across],
      at: lengths(middle),
      size: lengths([size[wide], height]),
      length: mm(size[across])
    }
  };
}

/** A fan draws from the zone it is in, and blows into the nearest vent that no other fan has. */
function newFan(box, view, {text, shapes, middle}) {
  const taken = new Set(shapes.fans.flatMap((f) => [f.draws_from, f.blows_into]));
  const behindZone = (v) => text.has(['vents', v.name, 'behind']) && !text.has(['fins', v.behind]);
  const possible = shapes.vents.filter((v) => !v.leak && !taken.has(v.name) && !behindZone(v));
  const sides = possible.filter((v) => v.face !== 'base' && v.face !== 'top');
  const others = sides.length ? sides : possible;
  if (!others.length) return {refused: 'A fan blows into a vent, fins or a zone: draw the outlet first.'};
  const away = (v) => Math.hypot(v.centre[X] - middle[X], v.centre[Y] - middle[Y]);
  const outlet = others.sort((a, b) => away(a) - away(b))[0];
  return {
    name: freshName(text, 'fans', 'fan'),
    value: {
      kind: 'blower',
      diameter: mm(box.w / 1000),
      'draws-from': zoneAt(shapes, text, middle),
      'blows-into': text.has(['vents', outlet.name, 'behind']) ? outlet.behind : outlet.name,
      at: lengths(middle)
    }
  };
}

/** The circle through three points [mm], as a box; null where they lie in a line. */
function circleThrough([ax, ay], [bx, by], [cx, cy]) {
  const d = 2 * (ax * (by - cy) + bx * (cy - ay) + cx * (ay - by));
  if (Math.abs(d) < 1e-6) return null;
  const sa = ax * ax + ay * ay, sb = bx * bx + by * by, sc = cx * cx + cy * cy;
  const x = (sa * (by - cy) + sb * (cy - ay) + sc * (ay - by)) / d;
  const y = (sa * (cx - bx) + sb * (ax - cx) + sc * (bx - ax)) / d;
  const w = 2 * Math.hypot(ax - x, ay - y);
  return {x, y, w, h: w};
}
