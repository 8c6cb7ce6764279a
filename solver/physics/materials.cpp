#include "solver/physics/materials.hpp"

namespace tuft::physics {
namespace {

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
      // 80 g/m2 by its name, trade tolerance 5 % (public paper-property page, confirmed); stiffness E t^3/12,
      // 4 GPa, 0.10 mm (from memory).
      {"copy-paper", scaled(1e-3, 80.0, 76.0, 84.0), {3.3e-4, 2.0e-4, 5.0e-4}},
      // Airmail or newsprint weight (from memory); stiffness by t^3 from copy paper (judgement).
      {"thin-paper", scaled(1e-3, 40.0, 30.0, 50.0), {5.0e-5, 2.0e-5, 1.2e-4}},
      // One ply of a paper handkerchief (from memory).
      {"tissue", scaled(1e-3, 17.0, 14.0, 20.0), {5.0e-6, 1.0e-6, 1.0e-5}},
      // Kitchen film of polyethylene, 10 um, 920 kg/m3 (from memory); E t^3/12 with 0.3 GPa (judgement);
      // charges itself and sticks.
      {"wrapping-film", scaled(1e-3, 9.0, 7.0, 14.0), {1.4e-7, 0.5e-7, 1.0e-6}},
      // A strip of the same outline that lets half the air through: some 4 mg on 40 mm by 15 mm (judgement).
      {"down-feather", scaled(1e-3, 6.0, 3.0, 12.0), {1.0e-6, 0.2e-6, 5.0e-6}, {0.5, 0.3, 0.9}}};
  return sheets;
}

const SheetMaterial& sheet(const std::string& name) {
  return named(sheet_materials(), name, "material of a strip");
}

const std::vector<ThreadMaterial>& thread_materials() {
  // Weights and diameters from memory, stiffnesses judgement.
  static const std::vector<ThreadMaterial> threads = {
      // Double-knitting yarn, 200 to 250 m in 100 g; diameter from some 12 turns to the inch.
      {"knitting-wool", scaled(1e-6, 400.0, 360.0, 500.0), {2.0e-3, 1.5e-3, 2.6e-3}, {1e-8, 1e-9, 1e-7}},
      // Four-ply yarn, 400 m in 100 g.
      {"sock-wool", scaled(1e-6, 250.0, 220.0, 280.0), {1.5e-3, 1.1e-3, 1.9e-3}, {5e-9, 5e-10, 5e-8}},
      // Household polyester thread, ticket 100 to 120.
      {"sewing-thread", scaled(1e-6, 30.0, 20.0, 45.0), {0.22e-3, 0.15e-3, 0.30e-3}, {1e-10, 1e-11, 1e-9}},
      // Fine filament as used for tufts.
      {"silk-thread", scaled(1e-6, 8.0, 4.0, 15.0), {0.10e-3, 0.06e-3, 0.15e-3}, {1e-11, 1e-12, 1e-10}}};
  return threads;
}

const ThreadMaterial& thread(const std::string& name) {
  return named(thread_materials(), name, "material of a strip");
}

const std::vector<SurfaceFinish>& surfaces() {
  // Confirmed in emissivity appendices of infrared-camera manuals, which cite Bramson, Wolfe & Zissis,
  // Madding and Ohman; the others from memory, as said.
  static const std::vector<SurfaceFinish> all = {
      {"bare-aluminium", {0.05, 0.03, 0.09}},
      {"oxidised-aluminium", {0.25, 0.20, 0.30}},
      {"blasted-cast-aluminium", {0.46, 0.40, 0.52}},
      {"anodised-aluminium", {0.95, 0.92, 0.98}},
      {"bare-steel", {0.25, 0.10, 0.40}},   // rolled or brushed sheet, from memory
      {"bare-copper", {0.05, 0.02, 0.10}},  // clean copper, heat pipes, from memory
      {"paint", {0.95, 0.92, 0.97}},
      {"plastic", {0.95, 0.93, 0.97}},
      {"paper", {0.95, 0.93, 0.97}},
      {"vinyl-tape", {0.96, 0.94, 0.98}},
      {"glass", {0.94, 0.90, 0.96}},
      {"circuit-board", {0.90, 0.80, 0.95}},  // solder mask, from memory; bare pads are metal
      {"skin", {0.98, 0.96, 0.99}}};          // human skin, from memory
  return all;
}

const SurfaceFinish& surface(const std::string& name) { return named(surfaces(), name, "surface"); }

}  // namespace tuft::physics
