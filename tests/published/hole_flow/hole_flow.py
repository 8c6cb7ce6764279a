#!/usr/bin/env python3
"""Steady incompressible flow through one hole of a lattice (axisymmetric cell) or one slot of a comb (plane).

Prints the loss coefficient K of the opening on its own mean velocity, for a list of Reynolds numbers:
    hole_flow.py KIND OPEN_RATIO THICKNESS [CELLS] [RE...]
KIND round or slot; THICKNESS over the diameter (or the slot's width); Re = w d/nu on the same length.

The cell around a hole is a cylinder of the same open ratio with a slippery wall; around a slot, a strip.
Marker-and-cell grid, stretched towards the edges, convection by central differences, Newton's method with a
direct sparse solution. The residual is quadratic, so central differences of it are its exact derivative.
Far behind the plate the stream is taken as mixed: on a slippery wall p + <w^2> is constant, hence
K = 2 (p_in + U^2 - p_out - <w^2>_out), with the velocity in the hole as unit and U the open ratio.
Needs numpy and scipy."""
import sys
import numpy as np
import scipy.sparse as sp
from scipy.sparse.linalg import splu


def stretched(length, first, ratio):
    """Widths that grow from `first` by at most `ratio` and add up to `length`."""
    widths, total = [], 0.0
    while total < length:
        widths.append(first * ratio ** len(widths))
        total += widths[-1]
    return np.array(widths) * (length / total)


def two_sided(length, first, ratio):
    half = stretched(length / 2, first, ratio)
    return np.concatenate([half, half[::-1]])


class Cell:
    def __init__(self, kind, f, t, cells):
        self.axial = kind == 'round'
        a = 0.5
        R = a / np.sqrt(f) if self.axial else a / f
        h = 0.5 / cells
        grow = 1.0 + 1.6 / cells
        up = stretched(max(3 * R, 2.0), h, grow)[::-1]
        down = stretched(max(6 * R, 8.0), h, grow)
        plate = two_sided(t, min(h, t / 4), grow)
        inner = stretched(a, h, grow)[::-1]
        outer = stretched(R - a, min(h, (R - a) / 3), grow)
        dr, dz = np.concatenate([inner, outer]), np.concatenate([up, plate, down])
        self.rf = np.concatenate([[0], np.cumsum(dr)])
        self.zf = np.concatenate([[0], np.cumsum(dz)])
        self.dr, self.dz = dr, dz
        self.rc, self.zc = 0.5 * (self.rf[1:] + self.rf[:-1]), 0.5 * (self.zf[1:] + self.zf[:-1])
        nr, nz = len(dr), len(dz)
        self.nr, self.nz = nr, nz
        solid = np.zeros((nr, nz), bool)
        solid[len(inner):, len(up):len(up) + len(plate)] = True
        self.solid = solid
        self.U = f
        one = lambda x: x if self.axial else np.ones_like(x)
        self.wf, self.wc = one(self.rf), one(self.rc)  # metric of faces and centres
        self.volume_r = (self.wc * dr)[:, None]
        # fixed velocities
        self.w_fixed = np.zeros((nr, nz + 1), bool)
        self.w_fixed[:, :-1] |= solid
        self.w_fixed[:, 1:] |= solid
        self.u_fixed = np.zeros((nr + 1, nz), bool)
        self.u_fixed[:-1] |= solid
        self.u_fixed[1:] |= solid
        self.u_fixed[0] = self.u_fixed[-1] = True
        self.sizes = [nr * (nz + 1), (nr + 1) * nz, nr * nz]
        self.shapes = [(nr, nz + 1), (nr + 1, nz), (nr, nz)]
        self.make_pattern()

    def split(self, x):
        s = np.cumsum([0] + self.sizes)
        return [x[s[i]:s[i + 1]].reshape(self.shapes[i]) for i in range(3)]

    def residual(self, x, nu):
        w, u, p = self.split(x)
        rf, rc, dr, dz, wf, wc = self.rf, self.rc, self.dr, self.dz, self.wf, self.wc
        nr, nz = self.nr, self.nz
        drc, dzc = np.diff(rc), np.diff(self.zc)
        # axial momentum at inner z-faces 1..nz-1
        W = w[:, 1:-1]
        centre = 0.5 * (w[:, :-1] + w[:, 1:])
        flux_z = centre ** 2 - nu * (w[:, 1:] - w[:, :-1]) / dz
        share = dz[:-1] / (dz[:-1] + dz[1:])
        U = u[:, :-1] * (1 - share) + u[:, 1:] * share  # at edges of the control volume
        s = (dr[:-1] / (dr[:-1] + dr[1:]))[:, None]
        edge = W[:-1] * (1 - s) + W[1:] * s
        both = self.solid[:, :-1] & self.solid[:, 1:]  # faces inside the plate
        gradient = np.where(both[1:] & ~both[:-1], -W[:-1] / (rf[1:-1] - rc[:-1])[:, None],
                            (W[1:] - W[:-1]) / drc[:, None])
        flux_r = np.zeros((nr + 1, nz - 1))
        flux_r[1:-1] = wf[1:-1, None] * (U[1:-1] * edge - nu * gradient)
        Fw = w.copy()
        Fw[:, 0] = w[:, 0] - self.U
        Fw[:, -1] = w[:, -1] - w[:, -2]
        Fw[:, 1:-1] = ((flux_z[:, 1:] - flux_z[:, :-1] + p[:, 1:] - p[:, :-1]) / dzc
                       + (flux_r[1:] - flux_r[:-1]) / self.volume_r)
        Fw = np.where(self.w_fixed, w, Fw)
        # radial momentum at inner r-faces 1..nr-1
        V = u[1:-1]
        middle = 0.5 * (u[:-1] + u[1:])
        flux_r = wc[:, None] * (middle ** 2 - nu * (u[1:] - u[:-1]) / dr[:, None])
        Wn = w[:-1] * (1 - s) + w[1:] * s
        edge = V[:, :-1] * (1 - share) + V[:, 1:] * share
        both = self.solid[:-1] & self.solid[1:]
        up = both[:, 1:] & ~both[:, :-1]
        down = both[:, :-1] & ~both[:, 1:]
        gradient = (V[:, 1:] - V[:, :-1]) / dzc
        gradient = np.where(up, -V[:, :-1] / (self.zf[1:-1] - self.zc[:-1]), gradient)
        gradient = np.where(down, V[:, 1:] / (self.zc[1:] - self.zf[1:-1]), gradient)
        flux_z = np.zeros((nr - 1, nz + 1))
        flux_z[:, 1:-1] = Wn[:, 1:-1] * edge - nu * gradient
        flux_z[:, -1] = Wn[:, -1] * V[:, -1]
        flux_z[:, 0] = nu * -V[:, 0] / (0.5 * dz[0])
        radius = rf[1:-1, None]
        Fu = u.copy()
        Fu[1:-1] = ((flux_r[1:] - flux_r[:-1]) / (wf[1:-1, None] * drc[:, None])
                    + (flux_z[:, 1:] - flux_z[:, :-1]) / dz + (p[1:] - p[:-1]) / drc[:, None])
        if self.axial:
            Fu[1:-1] += nu * V / radius ** 2
        Fu = np.where(self.u_fixed, u, Fu)
        Fp = (wf[1:, None] * u[1:] - wf[:-1, None] * u[:-1]) / self.volume_r + (w[:, 1:] - w[:, :-1]) / dz
        Fp = np.where(self.solid, p, Fp)
        Fp[-1, -1] = p[-1, -1]
        return np.concatenate([Fw.ravel(), Fu.ravel(), Fp.ravel()])

    def make_pattern(self):
        start = np.cumsum([0] + self.sizes)
        grids = [np.meshgrid(*map(np.arange, s), indexing='ij') for s in self.shapes]
        self.colours = []
        for c, shape in enumerate(self.shapes):
            for a in range(3):
                for b in range(3):
                    seed = (grids[c][0] % 3 == a) & (grids[c][1] % 3 == b)
                    rows, cols = [], []
                    for r in range(3):
                        J, K = grids[r]
                        j = J + (a - J + 1) % 3 - 1
                        k = K + (b - K + 1) % 3 - 1
                        ok = (j >= 0) & (k >= 0) & (j < shape[0]) & (k < shape[1])
                        rows.append((start[r] + J * self.shapes[r][1] + K)[ok])
                        cols.append((start[c] + j * shape[1] + k)[ok])
                    x = np.zeros(start[3])
                    x[start[c]:start[c + 1]] = seed.ravel()
                    self.colours.append((x, np.concatenate(rows), np.concatenate(cols)))

    def jacobian(self, x, nu):
        rows, cols, values = [], [], []
        for seed, r, c in self.colours:
            d = 0.5 * (self.residual(x + seed, nu) - self.residual(x - seed, nu))[r]
            keep = d != 0
            rows.append(r[keep]), cols.append(c[keep]), values.append(d[keep])
        return sp.csc_matrix((np.concatenate(values), (np.concatenate(rows), np.concatenate(cols))))

    def solve(self, re, x):
        nu = 1.0 / re
        for step in range(14):
            F = self.residual(x, nu)
            change = splu(self.jacobian(x, nu)).solve(-F)
            x = x + change
            largest = np.abs(change[:self.sizes[0]]).max()
            if largest < 1e-6:
                return x
            if not largest < 50.0:
                return None
        return None

    def follow(self, last, re, x, depth=0):
        """The solution at `re` from that at `last`, over numbers in between where one step does not do."""
        y = self.solve(re, x)
        if y is not None or depth > 2:
            return y
        middle = np.sqrt(last * re)
        y = self.follow(last, middle, x, depth + 1)
        return None if y is None else self.follow(middle, re, y, depth + 1)

    def loss(self, x):
        w, u, p = self.split(x)
        area = self.wc * self.dr
        mean = lambda q: (q * area).sum() / area.sum()
        out = -2 if self.nz > 2 else -1
        return 2 * (mean(p[:, 0]) + self.U ** 2 - mean(p[:, out]) - mean((0.5 * (w[:, out] + w[:, out - 1])) ** 2))


def main():
    kind, f, t = sys.argv[1], float(sys.argv[2]), float(sys.argv[3])
    cells = int(sys.argv[4]) if len(sys.argv) > 4 else 10
    numbers = [float(r) for r in sys.argv[5:]] or [0.1, 2, 5, 10, 20, 40, 80, 160, 320]
    cell = Cell(kind, f, t, cells)
    x = np.zeros(sum(cell.sizes))
    last = 0.01
    for re in numbers:
        y = cell.follow(last, re, x)
        if y is None:
            print(kind, f, t, re, 'no solution', flush=True)
            break
        x, last = y, re
        print(kind, f, t, re, '%.4f' % cell.loss(x), flush=True)


main()
