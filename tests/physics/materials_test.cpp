// The library of materials.
#include "solver/physics/materials.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <set>
#include <stdexcept>

using namespace tuft::physics;

namespace {

void check_range(const Range& range) {
  CHECK(range.low > 0.0);
  CHECK(range.low <= range.nominal);
  CHECK(range.nominal <= range.high);
}

}  // namespace

TEST_CASE("materials: doubt, names") {
  std::set<std::string> names;
  for (const SheetMaterial& material : sheet_materials()) {
    INFO(material.name);
    check_range(material.area_density);
    check_range(material.stiffness);
    check_range(material.drag_factor);
    CHECK(names.insert(material.name).second);
    CHECK(sheet(material.name).area_density.nominal == material.area_density.nominal);
  }
  for (const ThreadMaterial& material : thread_materials()) {
    INFO(material.name);
    check_range(material.linear_density);
    check_range(material.diameter);
    check_range(material.stiffness);
    CHECK(names.insert(material.name).second);
    CHECK(thread(material.name).diameter.nominal == material.diameter.nominal);
    // A yarn is no denser than solid polyester, 1380 kg/m3 (from memory).
    const double area = 0.25 * 3.14159265358979 * material.diameter.nominal * material.diameter.nominal;
    CHECK(material.linear_density.nominal / area < 1380.0);
  }
  CHECK_THROWS_AS(sheet("granite"), std::invalid_argument);
  CHECK_THROWS_AS(thread(""), std::invalid_argument);
}

TEST_CASE("materials: copy paper's bending length") {
  // (B/w)^(1/3) = (3.3e-4/0.785)^(1/3) = 75 mm (derived).
  const SheetMaterial& paper = sheet("copy-paper");
  const double length = std::cbrt(paper.stiffness.nominal / (paper.area_density.nominal * 9.80665));
  CHECK(length == Approx(0.075).epsilon(0.01));
}
