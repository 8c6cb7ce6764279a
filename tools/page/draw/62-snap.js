// Snapping: edges and middles of a box that is moved or drawn jump to those of the face and of other things.

const SNAP = 6;  // [px]

/** The lines that a box may snap to: places along x and along y [mm]. */
function snapLines(view, others) {
  const lines = {x: [-view.width / 2, 0, view.width / 2], y: [-view.height / 2, 0, view.height / 2]};
  for (const {x, y, w, h} of others) {
    lines.x.push(x - w / 2, x, x + w / 2);
    lines.y.push(y - h / 2, y, y + h / 2);
  }
  return lines;
}

/** The line nearest to one of some places, within reach: {by, at}, or null. */
function nearestLine(lines, places, reach) {
  let best = null;
  for (const line of lines)
    for (const place of places) {
      const by = line - place;
      if (Math.abs(by) <= reach && (!best || Math.abs(by) < Math.abs(best.by))) best = {by, at: line};
    }
  return best;
}

const toTenths = (value) => Math.round(value * 10) / 10;

/** A line across the stage where something snapped. */
function guideOf(axis, at, view) {
  const long = 2 * Math.max(view.width, view.height);
  return axis === 'x' ? {x1: at, x2: at, y1: -long, y2: long} : {y1: at, y2: at, x1: -long, x2: long};
}

/** A moved box snapped: {box, guides}. Where nothing is near its edges come to lie on tenths of a millimetre. */
function snappedMove(box, lines, reach, view) {
  const result = {...box}, guides = [];
  for (const [axis, side] of [['x', 'w'], ['y', 'h']]) {
    const half = box[side] / 2, hit = nearestLine(lines[axis], [box[axis] - half, box[axis], box[axis] + half], reach);
    if (hit) guides.push(guideOf(axis, hit.at, view));
    const corner = view[axis === 'x' ? 'width' : 'height'] / 2;
    result[axis] = hit ? box[axis] + hit.by : toTenths(box[axis] - half + corner) - corner + half;
  }
  return {box: result, guides};
}

/** A corner or an edge snapped: {at, guides}; `axes`: along which it moves. */
function snappedPoint(at, axes, lines, reach, view) {
  const result = [...at], guides = [];
  for (const [k, axis] of [[0, 'x'], [1, 'y']]) {
    if (!axes.includes(axis)) continue;
    const hit = nearestLine(lines[axis], [at[k]], reach), corner = view[axis === 'x' ? 'width' : 'height'] / 2;
    if (hit) guides.push(guideOf(axis, hit.at, view));
    result[k] = hit ? hit.at : toTenths(at[k] + corner) - corner;
  }
  return {at: result, guides};
}

/** A box kept on the face: moved back over its edge. */
function keptOn(view, box) {
  const w = Math.min(box.w, view.width), h = Math.min(box.h, view.height);
  const held = (value, room) => Math.min(room, Math.max(-room, value));
  return {...box, w, h, x: held(box.x, (view.width - w) / 2), y: held(box.y, (view.height - h) / 2)};
}
