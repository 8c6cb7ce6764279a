// Photos of a face of an invented device, rendered: shell, holes, table, an oblique view, a bulging lens, uneven
// light and noise. Written apart from what the page and the program do with photos.

/** Solves a linear system by elimination. */
function solved(rows) {
  const n = rows.length;
  for (let k = 0; k < n; ++k) {
    const pivot = rows.slice(k).reduce((best, _, i) => (Math.abs(rows[k + i][k]) > Math.abs(rows[best][k]) ? k + i : best), k);
    [rows[k], rows[pivot]] = [rows[pivot], rows[k]];
    for (let i = 0; i < n; ++i) {
      if (i === k) continue;
      const factor = rows[i][k] / rows[k][k];
      for (let j = k; j <= n; ++j) rows[i][j] -= factor * rows[k][j];
    }
  }
  return rows.map((row, k) => row[n] / row[k]);
}

/** The eight coefficients of the projective map that takes four points to four others. */
export function projective(from, to) {
  const rows = from.flatMap(([x, y], k) => {
    const [u, v] = to[k];
    return [[x, y, 1, 0, 0, 0, -u * x, -u * y, u], [0, 0, 0, x, y, 1, -v * x, -v * y, v]];
  });
  return solved(rows);
}

/** r = s / (1 - b s^2) mends a bulge; this is the way back, s of r, by bisection. */
export function bulgedPlace([x, y], bulge, width, height) {
  const half = Math.hypot(width, height) / 2, dx = (x - width / 2) / half, dy = (y - height / 2) / half;
  const r = Math.hypot(dx, dy);
  let low = 0, high = 2 * r + 1e-9;
  for (let k = 0; k < 60; ++k) {
    const middle = (low + high) / 2;
    if (middle / (1 - bulge * middle * middle) < r)
      low = middle;
    else
      high = middle;
  }
  const factor = r > 0 ? low / r : 1;
  return [width / 2 + half * dx * factor, height / 2 + half * dy * factor];
}

/**
 * A JPEG of a face. `face`: {width, height} [mm] as looked at, and its openings {x, y, w, h} [mm], x and y of
 * their middle from the upper left corner, with `cover` ('perforated', 'slots' or 'open'), `open` and `hole`
 * [mm]; corner cards {corner: [x, y] [mm], quarters, black: 5 x 5 modules of 4 mm}; and fans {x, y, r} [mm].
 * `corners`: where the upper left, upper right, lower right and lower left corner of the face would lie in a
 * picture without bulge [px].
 */
export async function photoOf(page, face, {width, height, corners, bulge = 0, noise = 6, seed = 1}) {
  const inverse = projective(corners, [[0, 0], [face.width, 0], [face.width, face.height], [0, face.height]]);
  const base64 = await page.evaluate(async ({face, width, height, bulge, noise, seed, inverse}) => {
    const canvas = document.createElement('canvas');
    Object.assign(canvas, {width, height});
    const context = canvas.getContext('2d'), image = context.createImageData(width, height);
    let state = seed;
    const random = () => ((state = (state * 1664525 + 1013904223) >>> 0) / 4294967296);
    const [a, b, c, d, e, f, g, h] = inverse, half = Math.hypot(width, height) / 2;
    const inHole = (vent, x, y) => {
      if (vent.cover === 'open') return true;
      if (vent.cover === 'slots') {
        const pitch = vent.hole / vent.open, along = vent.w >= vent.h ? x : y;
        return ((along % pitch) + pitch) % pitch < vent.hole;
      }
      const pitch = vent.hole * Math.sqrt(Math.PI / (2 * Math.sqrt(3) * vent.open)), row = pitch * Math.sqrt(3) / 2;
      const k = Math.round(y / row);
      for (const j of [k - 1, k, k + 1]) {
        const shift = j % 2 ? pitch / 2 : 0, i = Math.round((x - shift) / pitch);
        if (Math.hypot(x - shift - i * pitch, y - j * row) < vent.hole / 2) return true;
      }
      return false;
    };
    // From a card's upper left corner to the right and down; it is turned by quarters, clockwise.
    const onCard = ({corner: [cx, cy], quarters}, x, y) =>
        [[x - cx, y - cy], [y - cy, cx - x], [cx - x, cy - y], [cy - y, x - cx]][quarters];
    const shade = (px, py) => {
      const dx = (px - width / 2) / half, dy = (py - height / 2) / half, s2 = dx * dx + dy * dy;
      const u = width / 2 + half * dx / (1 - bulge * s2), v = height / 2 + half * dy / (1 - bulge * s2);
      const w = g * u + h * v + 1, x = (a * u + b * v + c) / w, y = (d * u + e * v + f) / w;
      const light = 0.82 + 0.18 * (1 - px / width) - 0.1 * (py / height);
      if (x < 0 || y < 0 || x > face.width || y > face.height)
        return [118 * light, 88 * light, 60 * light + 6 * Math.sin(v / 9)];
      for (const card of face.cards || []) {
        const [u, v] = onCard(card, x, y);
        if (u < 0 || v < 0 || u >= 28 || v >= 41) continue;
        const black = v < 28 && (card.black[Math.floor(v / 4) - 1] || [])[Math.floor(u / 4) - 1];
        return black ? [26 * light, 26 * light, 28 * light] : [236 * light, 236 * light, 232 * light];
      }
      for (const vent of face.openings)
        if (Math.abs(x - vent.x) < vent.w / 2 && Math.abs(y - vent.y) < vent.h / 2 && inHole(vent, x - vent.x, y - vent.y))
          return [22, 22, 24];
      for (const fan of face.fans || []) {
        const r = Math.hypot(x - fan.x, y - fan.y) / fan.r, blade = Math.atan2(y - fan.y, x - fan.x) * 11 / Math.PI;
        if (r < 0.4) return [70 * light, 70 * light, 74 * light];
        if (r < 1) return Math.floor(blade + 40) % 2 ? [46 * light, 46 * light, 50 * light] : [24, 24, 26];
      }
      for (const [sx, sy] of face.screws || [])
        if (Math.hypot(x - sx, y - sy) < 2.2) return [90 * light, 90 * light, 95 * light];
      return [188 * light, 190 * light, 194 * light];
    };
    const steps = [0.25, 0.75];
    for (let y = 0; y < height; ++y)
      for (let x = 0; x < width; ++x) {
        const sum = [0, 0, 0];
        for (const sx of steps)
          for (const sy of steps) shade(x + sx, y + sy).forEach((value, k) => (sum[k] += value / 4));
        const grain = noise * (random() + random() + random() - 1.5);
        image.data.set([sum[0] + grain, sum[1] + grain, sum[2] + grain, 255], 4 * (y * width + x));
      }
    context.putImageData(image, 0, 0);
    const blob = await new Promise((done) => canvas.toBlob(done, 'image/jpeg', 0.92));
    const bytes = new Uint8Array(await blob.arrayBuffer());
    let text = '';
    for (let k = 0; k < bytes.length; k += 8192) text += String.fromCharCode(...bytes.subarray(k, k + 8192));
    return btoa(text);
  }, {face, width, height, bulge, noise, seed, inverse});
  return Buffer.from(base64, 'base64');
}

/** The base of the slim notebook as looked at from below: mirrored, rear edge at the top [mm]. */
export const NOTEBOOK_BASE = {
  width: 312,
  height: 221,
  openings: [
    {name: 'base-grille', x: 312 - 56, y: 221 - 166, w: 72, h: 62, cover: 'perforated', open: 0.48, hole: 2},
    {name: 'comb', x: 312 - 190, y: 221 - 44, w: 180, h: 14, cover: 'slots', open: 0.45, hole: 2.5}
  ],
  screws: [[8, 8], [304, 8], [8, 213], [304, 213], [156, 110]]
};

/** A phone held by hand over it. */
export const BY_HAND = {
  width: 2400,
  height: 1800,
  corners: [[265, 250], [2120, 190], [2240, 1540], [170, 1490]],
  bulge: 0.05
};
