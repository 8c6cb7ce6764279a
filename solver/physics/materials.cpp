#include "solver/physics/materials.hpp"

#include <stdexcept>

namespace tuft::instruments {

namespace {

template <class Material>
const Material& named(const std::vector<Material>& all, const std::string& name) {
  for (const Material& material : all) {
    if (material.name == name) return material;
  }
  throw std::invalid_argument("material of a tell-tale = " + name + ": not known");
}

/// Range in grammes, millimetres or tex turned into SI.
Range scaled(double factor, double nominal, double low, double high) {
  return {factor * nominal, factor * low, factor * high};
}

}  // namespace

const std::vector<SheetMaterial>& sheet_materials() {
  // That paper's stiffness goes with the cube of its thickness is stated by a public printing encyclopedia.
  // Stiffnesses themselves, along the grain (across it paper is some half as stiff): E t^3/12 with E about 4
  // GPa for copy paper (from memory), and scaled by t^3 from there.
  static const std::vector<SheetMaterial> sheets = {
      {"copy-paper",
       scaled(1e-3, 80.0, 76.0, 84.0),
       {3.3e-4, 2.0e-4, 5.0e-4},
       {1.0, 1.0, 1.0},
       Known::Confirmed,
       Known::FromMemory,
       "80 g/m2 by its name, trade tolerance 5 % (public paper-property page); stiffness E t^3/12, 4 GPa, "
       "0.10 mm"},
      {"thin-paper",
       scaled(1e-3, 40.0, 30.0, 50.0),
       {5.0e-5, 2.0e-5, 1.2e-4},
       {1.0, 1.0, 1.0},
       Known::FromMemory,
       Known::Judgement,
       "airmail or newsprint weight; stiffness by t^3 from copy paper"},
      {"tissue",
       scaled(1e-3, 17.0, 14.0, 20.0),
       {5.0e-6, 1.0e-6, 1.0e-5},
       {1.0, 1.0, 1.0},
       Known::FromMemory,
       Known::FromMemory,
       "one ply of a paper handkerchief"},
      {"wrapping-film",
       scaled(1e-3, 9.0, 7.0, 14.0),
       {1.4e-7, 0.5e-7, 1.0e-6},
       {1.0, 1.0, 1.0},
       Known::FromMemory,
       Known::Judgement,
       "kitchen film of polyethylene, 10 um, 920 kg/m3; E t^3/12 with 0.3 GPa; charges itself and sticks"},
      {"down-feather",
       scaled(1e-3, 6.0, 3.0, 12.0),
       {1.0e-6, 0.2e-6, 5.0e-6},
       {0.5, 0.3, 0.9},
       Known::Judgement,
       Known::Judgement,
       "a strip of the same outline that lets half the air through: some 4 mg on 40 mm by 15 mm"}};
  return sheets;
}

const SheetMaterial& sheet(const std::string& name) { return named(sheet_materials(), name); }

const std::vector<ThreadMaterial>& thread_materials() {
  static const std::vector<ThreadMaterial> threads = {
      {"knitting-wool",
       scaled(1e-6, 400.0, 360.0, 500.0),
       {2.0e-3, 1.5e-3, 2.6e-3},
       {1e-8, 1e-9, 1e-7},
       Known::FromMemory,
       Known::Judgement,
       "double-knitting yarn, 200 to 250 m in 100 g; diameter from some 12 turns to the inch, from memory"},
      {"sock-wool",
       scaled(1e-6, 250.0, 220.0, 280.0),
       {1.5e-3, 1.1e-3, 1.9e-3},
       {5e-9, 5e-10, 5e-8},
       Known::FromMemory,
       Known::Judgement,
       "four-ply yarn, 400 m in 100 g"},
      {"sewing-thread",
       scaled(1e-6, 30.0, 20.0, 45.0),
       {0.22e-3, 0.15e-3, 0.30e-3},
       {1e-10, 1e-11, 1e-9},
       Known::FromMemory,
       Known::Judgement,
       "household polyester thread, ticket 100 to 120"},
      {"silk-thread",
       scaled(1e-6, 8.0, 4.0, 15.0),
       {0.10e-3, 0.06e-3, 0.15e-3},
       {1e-11, 1e-12, 1e-10},
       Known::FromMemory,
       Known::Judgement,
       "fine filament as used for tufts"}};
  return threads;
}

const ThreadMaterial& thread(const std::string& name) { return named(thread_materials(), name); }

}  // namespace tuft::instruments
