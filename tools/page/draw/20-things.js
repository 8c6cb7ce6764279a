// The things that are drawn, section by section: where each stands, and how a change of place or size is
// written into the case.

/** Boxes that hold no more than a face: their third extent is nothing. */
function faceExtents(face, [first, second]) {
  const size = [0, 0, 0], [a, b] = FACE_AXES[face];
  size[a] = first;
  size[b] = face === 'hinge' ? 0 : second;
  return size;
}

/** Extents of a vent along the axes of its face: of the upright rectangle that holds it. */
function extentsOf({size: [w, h], turned}) {
  const held = heldBox({w, h}, turned);
  return [held.w, held.h];
}

const cubed = (side) => [side, side, side];

/** The disc of a fan, as a box. */
function discOf(fan) {
  const size = cubed(fan.diameter);
  size[fan.axis] = fan.thickness;
  return size;
}

const lengths = (values) => values.map(mm);

/** Keys of distances to edges, which stand in for a centre. */
const fromEdges = (text, path) => text.keys(path).filter((key) => /^from-(left|right|front|rear|base|top|bottom)$/.test(key));

/** Entries that put the centre of a thing somewhere: [path, value]; undefined takes a key away. */
function placed(text, path, key, values) {
  return [[[...path, key], lengths(values)], ...fromEdges(text, path).map((edge) => [[...path, edge], undefined])];
}

/** Entries of a box by two corners, of which only those that moved are written anew. */
function corners(text, path, {centre, size}) {
  const at = (sense) => [X, Y, Z].map((k) => centre[k] + sense * size[k] / 2);
  return [['from', at(-1)], ['to', at(1)]].map(([key, corner]) => [[...path, key], lengths(corner)]);
}

/** Entries of the changed ones of a list of lengths; of the whole list where it is not written yet. */
function changedLengths(text, path, values, before) {
  const written = text.node(path);
  if (!YAML.isSeq(written)) return [[path, lengths(values)]];
  return values.map((value, k) => [[...path, k], mm(value), Math.abs(value - before[k]) > 5e-6])
      .filter((entry) => entry[2])
      .map(([p, value]) => [p, value]);
}

/**
 * What is known of each section. `inside`: it lies within the device. `box`: centre and size [m] of a thing as
 * the board tells it. `write`: entries for another box. `begun`: what a new one is, drawn as a box.
 */
const THINGS = {
  zones: {
    word: 'zone',
    title: 'Zone',
    inside: true,
    box: (z) => ({centre: z.centre, size: z.size}),
    write: (text, z, to) => corners(text, ['zones', z.name], to)
  },
  passages: {
    word: 'passage',
    title: 'Passage',
    inside: true,
    box: (p) => ({centre: p.centre, size: p.size}),
    write: (text, p, to) => {
      const across = 'xyz'.indexOf(p.across), axes = [X, Y, Z].filter((axis) => axis !== across);
      const path = ['passages', p.name], pick = (v) => axes.map((axis) => v[axis]);
      return [...placed(text, path, 'at', to.centre), ...changedLengths(text, [...path, 'size'], pick(to.size), pick(p.size))];
    }
  },
  sources: {
    word: 'source of heat',
    title: 'Heat',
    inside: true,
    box: (s) => ({centre: s.centre, size: s.size}),
    write: (text, s, to) => corners(text, ['sources', s.name], to)
  },
  fins: {
    word: 'fin stack',
    title: 'Fins',
    inside: true,
    box: (f) => ({centre: f.centre, size: f.size}),
    write: (text, f, to) => {
      const path = ['fins', f.name], along = finAxis(f), across = along === X ? Y : X;
      const entries = placed(text, path, 'at', to.centre);
      if (Math.abs(to.size[along] - f.size[along]) > 5e-6) entries.push([[...path, 'length'], mm(to.size[along])]);
      if (Math.abs(to.size[across] - f.size[across]) > 5e-6 && f.size[across] > 0) {
        const channels = Number(text.value([...path, 'channels'])) || 1, pitch = f.size[across] / channels;
        entries.push([[...path, 'channels'], String(Math.max(1, Math.round(to.size[across] / pitch)))]);
      }
      return entries;
    }
  },
  fans: {
    word: 'fan',
    title: 'Fan',
    inside: true,
    round: true,
    box: (f) => ({centre: f.centre, size: discOf(f)}),
    write: (text, f, to) => {
      const path = ['fans', f.name], [a, b] = [X, Y, Z].filter((axis) => axis !== f.axis);
      const diameter = Math.abs(to.size[a] - f.diameter) > Math.abs(to.size[b] - f.diameter) ? to.size[a] : to.size[b];
      const moved = [X, Y, Z].some((k) => Math.abs(to.centre[k] - f.centre[k]) > 5e-6);
      const entries = moved || !text.has([...path, 'at']) ? placed(text, path, 'at', to.centre) : [];
      if (Math.abs(diameter - f.diameter) > 5e-6) entries.push([[...path, 'diameter'], mm(diameter)]);
      return entries;
    }
  },
  vents: {
    word: 'vent',
    title: 'Vent',
    box: (v) => ({centre: v.centre, size: faceExtents(v.face, v.size)}),
    write: (text, v, to) => onFaceEntries(text, 'vents', v, to)
  },
  skin: {
    word: 'patch of skin',
    title: 'Skin',
    box: (s) => ({centre: s.centre, size: faceExtents(s.face, s.size)}),
    write: (text, s, to) => onFaceEntries(text, 'skin', s, to)
  }
};

function onFaceEntries(text, section, thing, to) {
  const path = [section, thing.name], axes = FACE_AXES[thing.face];
  const centre = axes.map((axis) => to.centre[axis]), before = axes.map((axis) => thing.centre[axis]);
  const moved = centre.some((value, k) => Math.abs(value - before[k]) > 5e-6);
  const size = axes.map((axis, k) => thing.face === 'hinge' && k === 1 ? thing.size[1] : to.size[axis]);
  return [
    ...(moved ? placed(text, path, 'centre', thing.face === 'hinge' ? [centre[0]] : centre) : []),
    ...changedLengths(text, [...path, 'size'], size, thing.size)
  ];
}

/** The axis along which the air goes through fins, by the outlet that they serve: told by their extents. */
function finAxis(fins) {
  return fins.along === undefined ? Y : fins.along;
}

/** A text with several entries set or taken away, in their order. */
function withEntries(text, entries) {
  const all = entries.filter(([path, value]) => value !== undefined || text.has(path));
  const inPlace = all.every(([path, value]) => {
    const node = value !== undefined && text.node(path);
    return node && !(YAML.isScalar(node) && node.source === '');
  });
  if (inPlace) {  // all at once, from the back
    let result = text.text;
    const spots = all.map(([path, value]) => [text.node(path).range, asFlow(value)]);
    for (const [[from, to], written] of spots.sort((a, b) => b[0][0] - a[0][0]))
      result = result.slice(0, from) + written + result.slice(to);
    return result;
  }
  let now = text;
  for (const [path, value] of all) now = new CaseText(value === undefined ? now.remove(path) : now.set(path, value));
  return now.text;
}

/** A name of a section that is not taken there nor in those that share names with it: "vent-3". */
function freshName(text, section, stem) {
  const taken = new Set(['zones', 'fins', 'vents', 'leaks', 'parts', 'skin', 'sources', 'fans', 'passages'].flatMap(
      (s) => text.keys([s])));
  for (let k = 1;; ++k) if (!taken.has(`${stem}-${k}`)) return `${stem}-${k}`;
}

/** The zone that a point lies in, or the nearest one; '' without zones of the file's own. */
function zoneAt(shapes, text, point) {
  if (!text.has(['zones'])) return shapes.zones.length ? shapes.zones[0].name : 'inside';
  const away = (z) => Math.hypot(...[X, Y, Z].map((k) => Math.max(0, Math.abs(point[k] - z.centre[k]) - z.size[k] / 2)));
  const sorted = [...shapes.zones].sort((a, b) => away(a) - away(b));
  return sorted.length ? sorted[0].name : 'inside';
}
