// What the cells of a device belong to: grid, zones, fin stacks.
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "geometry/device/raster.hpp"

namespace tuft::geometry {
namespace {

/// The device's grid with zones and fin stacks in their cells, and nothing that opens into them.
class PartRaster {
 public:
  PartRaster(const Device& device, double cell) : device_(device) { set_grid(cell); }

  Raster build() {
    set_zones();
    set_fins();
    drop_cut_off_cells();
    check_parts();
    return std::move(raster_);
  }

 private:
  void set_grid(double cell) {
    const double lx = device_.size.x(), ly = device_.size.y();
    if (!(cell > 0.0) || !std::isfinite(cell))
      throw std::invalid_argument("cell size is " + std::to_string(cell) + " m, must be > 0");
    if (!(cell <= 0.5 * std::min(lx, ly)))
      throw std::invalid_argument("cell size is " + std::to_string(cell) +
                                  " m, must be at most half of the " + std::to_string(std::min(lx, ly)) +
                                  " m of the chassis' shorter side");
    if (lx * ly / (cell * cell) > kMostCells)
      throw std::invalid_argument("cell size " + std::to_string(cell) + " m makes more than 4 million cells");
    raster_.nx = static_cast<int>(std::lround(lx / cell));
    raster_.ny = static_cast<int>(std::lround(ly / cell));
    raster_.dx = lx / raster_.nx;
    raster_.dy = ly / raster_.ny;
  }

  std::size_t at(int i, int j) const { return static_cast<std::size_t>(raster_.index(i, j)); }

  int add_storey() {
    const auto cells = static_cast<std::size_t>(raster_.nx) * static_cast<std::size_t>(raster_.ny);
    raster_.storeys.push_back({std::vector<int>(cells, kNoPart)});
    return static_cast<int>(raster_.storeys.size()) - 1;
  }

  void set_zones() {
    add_storey();
    raster_.zone_storey.resize(device_.zones.size());
    for (std::size_t z = 0; z < device_.zones.size(); ++z) {
      std::vector<std::size_t> cells;
      const Zone& zone = device_.zones[z];
      for (int j = 0; j < raster_.ny; ++j)
        for (int i = 0; i < raster_.nx; ++i)
          if (holds(zone.centre.x(), zone.size.x(), raster_.x(i)) &&
              holds(zone.centre.y(), zone.size.y(), raster_.y(j)))
            cells.push_back(at(i, j));
      const int storey = free_storey(cells);
      raster_.zone_storey[z] = storey;
      for (const std::size_t k : cells) raster_.storeys[storey].part[k] = static_cast<int>(z);
    }
  }

  // Half open, so that zones that touch share no cell; a hair of tolerance for sizes read from text.
  static bool holds(double centre, double size, double value) {
    const double low = centre - 0.5 * size - 1e-9, high = centre + 0.5 * size - 1e-9;
    return value >= low && value < high;
  }

  int free_storey(const std::vector<std::size_t>& cells) {
    for (std::size_t s = 0; s < raster_.storeys.size(); ++s) {
      const auto& part = raster_.storeys[s].part;
      if (std::all_of(cells.begin(), cells.end(), [&](std::size_t k) { return part[k] == kNoPart; }))
        return static_cast<int>(s);
    }
    return add_storey();
  }

  // Where a stack's air comes out: the vents that name it, or its exit zone.
  Vec3 way_out(int f) const {
    const FinStack& fins = device_.fin_stacks[f];
    if (fins.exit_zone >= 0) return device_.zones[fins.exit_zone].centre - fins.centre;
    Vec3 sum = Vec3::Zero();
    for (const Vent& vent : device_.vents) {
      if (vent.behind.kind != PlaceKind::fins || vent.behind.index != f) continue;
      Vec3 normal = face_normal(vent.face);
      normal.z() = 0.0;
      sum += vent.width * vent.height * normal;
    }
    if (sum.norm() > 1e-12) return sum;
    return from_fan(f);  // into base or top: straight on
  }

  Vec3 from_fan(int f) const {
    const Vec3& centre = device_.fin_stacks[f].centre;
    for (const Fan& fan : device_.fans)
      if (fan.blows_into.kind == PlaceKind::fins && fan.blows_into.index == f) return centre - fan.centre;
    return Vec3::UnitX();
  }

  void set_fins() {
    for (std::size_t f = 0; f < device_.fin_stacks.size(); ++f) {
      const FinStack& fins = device_.fin_stacks[f];
      const Vec3 way = way_out(static_cast<int>(f));
      FinBlock block;
      block.along = std::abs(way.x()) >= std::abs(way.y()) ? 0 : 1;
      block.sign = way[block.along] >= 0.0 ? 1 : -1;
      const double breadth = *fins.count * *fins.gap * kFinBreadth;
      // Two cells at least, or the air would meet no fins between entry and exit.
      if (block.along == 0) {
        place(fins.centre.x(), *fins.length, raster_.dx, raster_.nx, 2, &block.i0, &block.i1);
        place(fins.centre.y(), breadth, raster_.dy, raster_.ny, 1, &block.j0, &block.j1);
      } else {
        place(fins.centre.x(), breadth, raster_.dx, raster_.nx, 1, &block.i0, &block.i1);
        place(fins.centre.y(), *fins.length, raster_.dy, raster_.ny, 2, &block.j0, &block.j1);
      }
      put_block(static_cast<int>(f), &block);
      raster_.fins.push_back(std::move(block));
    }
  }

  // Whole cells nearest to a span; what sticks out of the chassis is moved inside.
  static void place(double centre, double length, double width, int n, int least, int* from, int* to) {
    const int count = std::clamp(static_cast<int>(std::lround(length / width)), least, n);
    const int first = static_cast<int>(std::lround(centre / width - 0.5 * count));
    *from = std::clamp(first, 0, n - count);
    *to = *from + count;
  }

  void put_block(int f, FinBlock* block) {
    const int n_zones = static_cast<int>(device_.zones.size());
    std::vector<int>& part = raster_.storeys[0].part;
    for (int j = block->j0; j < block->j1; ++j)
      for (int i = block->i0; i < block->i1; ++i) {
        if (part[at(i, j)] >= n_zones)
          throw std::invalid_argument("fin stacks '" + device_.fin_stacks[part[at(i, j)] - n_zones].name +
                                      "' and '" + device_.fin_stacks[f].name + "' take the same cells");
        part[at(i, j)] = n_zones + f;
      }
    const bool x = block->along == 0, high = block->sign > 0;
    const int first = x ? block->i0 : block->j0, last = x ? block->i1 - 1 : block->j1 - 1;
    block->entry = row_across(f, *block, high ? first : last);
    block->exit = row_across(f, *block, high ? last : first);
  }

  CellShares row_across(int f, const FinBlock& block, int row) const {
    CellShares shares;
    const double z = device_.fin_stacks[f].centre.z();
    if (block.along == 0)
      for (int j = block.j0; j < block.j1; ++j) shares.push_back(raster_.whole_cell(0, row, j, z));
    else
      for (int i = block.i0; i < block.i1; ++i) shares.push_back(raster_.whole_cell(0, i, row, z));
    normalise(&shares);
    return shares;
  }

  // Fins may cut a zone in two; the larger piece is the zone, the rest is dead air that nothing moves.
  void drop_cut_off_cells() {
    for (std::size_t z = 0; z < device_.zones.size(); ++z) {
      std::vector<int>& part = raster_.storeys[raster_.zone_storey[z]].part;
      std::vector<int> piece(part.size(), -1);
      std::vector<std::size_t> sizes;
      for (std::size_t k = 0; k < part.size(); ++k)
        if (part[k] == static_cast<int>(z) && piece[k] < 0)
          sizes.push_back(fill(part, static_cast<int>(z), k, static_cast<int>(sizes.size()), &piece));
      const auto largest = std::max_element(sizes.begin(), sizes.end()) - sizes.begin();
      for (std::size_t k = 0; k < part.size(); ++k)
        if (piece[k] >= 0 && piece[k] != largest) part[k] = kNoPart;
    }
  }

  // Marks the cells of a part connected with one of them; returns how many there are.
  std::size_t fill(const std::vector<int>& part, int wanted, std::size_t start, int mark,
                   std::vector<int>* piece) const {
    const auto nx = static_cast<std::size_t>(raster_.nx);
    std::vector<std::size_t> stack{start};
    (*piece)[start] = mark;
    std::size_t count = 0;
    const auto visit = [&](std::size_t k) {
      if (part[k] != wanted || (*piece)[k] >= 0) return;
      (*piece)[k] = mark;
      stack.push_back(k);
    };
    while (!stack.empty()) {
      const std::size_t k = stack.back();
      stack.pop_back();
      ++count;
      if (k % nx > 0) visit(k - 1);
      if (k % nx + 1 < nx) visit(k + 1);
      if (k >= nx) visit(k - nx);
      if (k + nx < part.size()) visit(k + nx);
    }
    return count;
  }

  void check_parts() const {
    std::vector<bool> seen(device_.zones.size() + device_.fin_stacks.size(), false);
    for (const Storey& storey : raster_.storeys)
      for (const int part : storey.part)
        if (part != kNoPart) seen[part] = true;
    for (std::size_t z = 0; z < device_.zones.size(); ++z)
      if (!seen[z])
        throw std::invalid_argument("no cell is left for zone '" + device_.zones[z].name +
                                    "'; it is smaller than a cell, or fins take all of it");
  }

  const Device& device_;
  Raster raster_;
};

}  // namespace

void normalise(CellShares* shares) {
  double sum = 0.0;
  for (const CellShare& s : *shares) sum += s.share;
  for (CellShare& s : *shares) s.share /= sum;
}

Raster rasterise_parts(const Device& device, double cell) { return PartRaster(device, cell).build(); }

}  // namespace tuft::geometry
