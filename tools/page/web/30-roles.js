// What a vent does: words, sign and arrows. Told apart by shape as well as by colour.

const ROLE_WORDS = {
  intake: 'takes air in',
  exhaust: 'lets air out',
  'both-ways': 'both ways',
  idle: 'next to nothing',
  shut: 'shut'
};
const ROLE_ORDER = ['intake', 'exhaust', 'both-ways', 'idle', 'shut'];

/** intake, exhaust, both-ways, idle, shut. */
const doing = (vent) => (vent.shut ? 'shut' : vent.role);
const roleClass = (vent) => 'role-' + doing(vent);

/** Streams of a vent that an arrow is drawn for: volume of room air [m3/s] and whether it leaves. */
function streamsOf(vent, density) {
  const inward = {flow: vent.inflow_kg_s / density, out: false};
  const outward = {flow: vent.outflow_kg_s / density, out: true};
  switch (doing(vent)) {
    case 'intake':
      return [inward];
    case 'exhaust':
      return [outward];
    case 'both-ways':
      return [inward, outward];
    default:
      return [];
  }
}

/**
 * How far along an edge the arrow of one of two streams stands. Where a vent breathes both ways in a pose, warm air
 * leaves by its upper end; `up` is against gravity on the page.
 */
function asideOf(stream, edge, up) {
  const rises = edge[0] * up[0] + edge[1] * up[1] > -1e-9;
  return stream.out === rises ? 8 : -8;
}

/** "in 1.17 L/s", one line a stream; or "next to nothing". */
function flowLines(vent, density) {
  const streams = streamsOf(vent, density);
  if (streams.length === 0) return [ROLE_WORDS[doing(vent)]];
  return streams.map((s) => (s.out ? 'out ' : 'in ') + flowText(s.flow));
}

/** The same in one line: "in 44 mL/s, out 32 mL/s". */
function flowWords(vent, density) {
  return flowLines(vent, density).join(', ');
}

const points = (list) => list.map(([x, y]) => px(x) + ',' + px(y)).join(' ');

function wedge(cx, cy, angle, tip, base, half) {
  const c = Math.cos(angle), s = Math.sin(angle);
  return points([
    [cx + tip * c, cy + tip * s], [cx + base * c - half * s, cy + base * s + half * c],
    [cx + base * c + half * s, cy + base * s - half * c]
  ]);
}

/**
 * The sign of a role within a radius around a point. In: a filled disc, two wedges inward. Out: a ring, two
 * wedges outward. Both ways: half filled, one in and one out. Idle: a ring with a bar. Shut: a square,
 * crossed.
 */
function mark(role, cx, cy, r) {
  const group = svg('g', {class: 'role-' + role, 'data-mark': role});
  const ring = (filled) => svg(
      'circle',
      {cx: px(cx), cy: px(cy), r: px(r - 0.8), class: filled ? 'fill-role' : 'hollow', 'stroke-width': 1.6});
  const w = (angle, tip, base, half, kind) =>
      svg('polygon', {points: wedge(cx, cy, angle, tip * r, base * r, half * r), class: kind});
  if (role === 'intake') {
    group.append(ring(true), w(0, 0.1, 0.76, 0.4, 'fill-paper'), w(Math.PI, 0.1, 0.76, 0.4, 'fill-paper'));
  } else if (role === 'exhaust') {
    group.append(ring(false), w(0, 0.78, 0.14, 0.4, 'fill-role'), w(Math.PI, 0.78, 0.14, 0.4, 'fill-role'));
  } else if (role === 'both-ways') {
    const half = svg('path', {
      d: `M ${px(cx)} ${px(cy - r + 0.4)} A ${px(r - 0.4)} ${px(r - 0.4)} 0 0 0 ${px(cx)} ` +
          `${px(cy + r - 0.4)} Z`,
      class: 'fill-role'
    });
    group.append(
        ring(false), half, w(Math.PI, 0.12, 0.74, 0.34, 'fill-paper'), w(0, 0.78, 0.16, 0.34, 'fill-role'));
  } else if (role === 'idle') {
    group.append(ring(false), svg('line', {
                   x1: px(cx - r / 2),
                   y1: px(cy),
                   x2: px(cx + r / 2),
                   y2: px(cy),
                   class: 'line-role',
                   'stroke-width': px(0.26 * r)
                 }));
  } else {
    const a = 0.86 * r, b = 0.5 * r;
    group.append(
        svg('rect', {
          x: px(cx - a),
          y: px(cy - a),
          width: px(2 * a),
          height: px(2 * a),
          class: 'hollow',
          'stroke-width': 1.6
        }),
        svg('path', {
          d: `M ${px(cx - b)} ${px(cy - b)} L ${px(cx + b)} ${px(cy + b)} M ` +
              `${px(cx - b)} ${px(cy + b)} L ${px(cx + b)} ${px(cy - b)}`,
          class: 'line-role',
          'stroke-width': 2
        }));
  }
  return group;
}

/** A sign in a line of text. The words stand beside it, so it says nothing of its own. */
function inlineMark(role) {
  return svg(
      'svg', {class: 'sign-inline', viewBox: '0 0 20 20', 'aria-hidden': 'true'}, mark(role, 10, 10, 9.5));
}

/** Sign and words of what a vent does, for a table. */
function roleCell(vent) {
  const firm = vent.firm === false && !vent.leak ? ' (close call)' : '';
  return el(
      'span', {class: roleClass(vent)},
      el('span', {class: 'together'}, inlineMark(doing(vent)),
         el('span', {class: 'role-name'}, ROLE_WORDS[doing(vent)])),
      firm);
}

/** An arrow from tail to tip: filled for air that goes in, hollow for air that comes out. */
function arrow(from, to, width, out, attributes) {
  const dx = to[0] - from[0], dy = to[1] - from[1], length = Math.hypot(dx, dy) || 1;
  const ux = dx / length, uy = dy / length;
  const head = Math.min(1.1 * width, length), half = (0.5 * width * head) / (1.1 * width),
        shaft = 0.42 * half;
  const at = (along, aside) => [from[0] + along * ux - aside * uy, from[1] + along * uy + aside * ux];
  const neck = length - head;
  const outline = neck > 0.5 ?
      [
        at(0, shaft), at(neck, shaft), at(neck, half), at(length, 0), at(neck, -half), at(neck, -shaft),
        at(0, -shaft)
      ] :
      [at(neck, half), at(length, 0), at(neck, -half)];
  return svg('polygon', {
    points: points(outline),
    class: out ? 'hollow' : 'fill-role',
    'stroke-width': out ? 1.5 : 0,
    'stroke-linejoin': 'round',
    ...attributes
  });
}

/** The key of signs that occur. */
function roleKey(vents) {
  const present = ROLE_ORDER.filter((role) => vents.some((v) => !v.leak && doing(v) === role));
  return el(
      'ul', {class: 'key'}, present.map((role) => el('li', {}, inlineMark(role), ROLE_WORDS[role])),
      el('li', {}, 'arrows: filled in, hollow out, as long as the flow is large'));
}
