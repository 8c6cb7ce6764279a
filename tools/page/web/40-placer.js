// Finds room for labels beside what they name, so that no text lies on text.

const overlap = (a, b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
const grown = (b, m) => ({left: b.left - m, top: b.top - m, right: b.right + m, bottom: b.bottom + m});
const boxAround = (list, m = 0) => grown(
    {
      left: Math.min(...list.map((p) => p[0])),
      right: Math.max(...list.map((p) => p[0])),
      top: Math.min(...list.map((p) => p[1])),
      bottom: Math.max(...list.map((p) => p[1]))
    },
    m);
const middleOf = (b) => [(b.left + b.right) / 2, (b.top + b.bottom) / 2];

class Placer {
  /** Labels keep off the lines of a polygon. */
  shunEdges(corners, weight) {
    corners.forEach((from, i) => {
      const to = corners[(i + 1) % corners.length], length = Math.hypot(to[0] - from[0], to[1] - from[1]);
      for (let at = 0; at < length; at += 8) {
        const p = [0, 1].map((k) => from[k] + (at / length) * (to[k] - from[k]));
        this.shun(boxAround([p], 4), weight);
      }
    });
  }

  constructor() {
    this.blocked = [];
    this.busy = [];
  }

  /** Nothing may lie here: text, signs, arrows. */
  block(box) {
    this.blocked.push(box);
  }
  /** Better not here. */
  shun(box, weight = 1) {
    this.busy.push({box, weight});
  }

  cost(box, gap) {
    let sum = gap;
    for (const {box: b, weight} of this.busy) {
      const w = Math.min(b.right, box.right) - Math.max(b.left, box.left);
      const h = Math.min(b.bottom, box.bottom) - Math.max(b.top, box.top);
      if (w > 0 && h > 0) sum += weight * w * h / 60;
    }
    return sum;
  }

  /**
   * The best free box of this size beside an anchor and within a room, and better not over `shunned`; null
   * when there is none.
   */
  place(anchor, width, height, room, shunned) {
    const [cx, cy] = middleOf(anchor);
    let best = null;
    for (const gap of [4, 9, 16, 26, 40, 58, 80, 110]) {
      const xs =
          [anchor.right + gap, anchor.left - gap - width, cx - width / 2, anchor.left, anchor.right - width];
      const ys = [
        cy - height / 2, anchor.top - gap - height, anchor.bottom + gap, anchor.bottom - height - 6,
        anchor.top + 6
      ];
      const corners = [
        [xs[0], ys[0]], [xs[1], ys[0]], [xs[2], ys[1]], [xs[2], ys[2]], [xs[0], ys[1]], [xs[0], ys[2]],
        [xs[1], ys[1]], [xs[1], ys[2]], [xs[0], ys[3]], [xs[1], ys[3]], [xs[0], ys[4]], [xs[1], ys[4]],
        [xs[3], ys[1]], [xs[3], ys[2]], [xs[4], ys[1]], [xs[4], ys[2]]
      ];
      for (const [left, top] of corners) {
        const box = {left, top, right: left + width, bottom: top + height};
        const inside =
            left >= room.left && top >= room.top && box.right <= room.right && box.bottom <= room.bottom;
        if (!inside || this.blocked.some((b) => overlap(grown(box, 2), b))) continue;
        const cost = this.cost(box, gap) + (shunned && overlap(box, shunned) ? 25 : 0);
        if (!best || cost < best.cost) best = {box, cost, gap};
      }
      if (best && best.cost <= gap) break;
    }
    if (best) this.block(best.box);
    return best;
  }
}

/**
 * Writes lines of text as one label beside an anchor: [{text, bold, kind}]. Shortened to `most` pixels. A
 * leader joins what stands apart. `shunned`: a box it should rather not lie over. False when there is no
 * room.
 */
function writeLabel(target, placer, anchor, room, lines, size, most, attributes, shunned) {
  const cut = lines.map((line) => ({...line, text: fitted(line.text, most, size, line.bold)}));
  const width = Math.max(...cut.map((line) => textWidth(line.text, size, line.bold)));
  const step = Math.round(size * 1.25);
  const found = placer.place(anchor, width, step * cut.length, room, shunned);
  if (!found) return false;
  const {box, gap} = found;
  const centre = (box.left + box.right) / 2, [ax, ay] = middleOf(anchor);
  const side = box.left >= anchor.right ? 'start' : box.right <= anchor.left ? 'end' : 'middle';
  const x = side === 'start' ? box.left : side === 'end' ? box.right : centre;
  if (gap > 20) {
    const clamp = (v, a, b) => Math.min(Math.max(v, a), b);
    const tip = [clamp(ax, box.left, box.right), clamp(ay, box.top, box.bottom)];
    target.append(svg('line', {
      class: 'leader',
      x1: px(tip[0]),
      y1: px(tip[1]),
      x2: px(clamp(tip[0], anchor.left, anchor.right)),
      y2: px(clamp(tip[1], anchor.top, anchor.bottom))
    }));
  }
  const group = svg('g', attributes);
  cut.forEach(
      (line, i) => group.append(
          svg('text', {
            x: px(x),
            y: px(box.top + step * (i + 0.8)),
            'font-size': size,
            'font-weight': line.bold ? 650 : 400,
            'text-anchor': side,
            class: 'label ' + (line.kind || '')
          },
              line.text)));
  target.append(group);
  return true;
}
