// The grille of a vent: its kinds in one table, and what the grille of one vent is like. Knows no physics.
//
// A kind stands in `CoverKind` and in `cover_kinds`; how much pressure it takes is said by its law, which
// solver/network/vent_law.cpp names.
#pragma once

#include "geometry/device/fields.hpp"

namespace tuft::geometry {

/// What the grille in an opening is made of.
enum class CoverKind {
  open,        ///< nothing: a sharp-edged hole or slot
  perforated,  ///< sheet with holes; `hole` is their diameter
  mesh,        ///< woven wire; `hole` is the clear gap between wires
  louvre,      ///< fixed blades
  slots,       ///< comb of parallel slots; `hole` is the width of one slot
  foam         ///< open-cell foam or a layer of dust; `permeability` and `thickness`
};

/// A size taken for a kind when nobody states it, or how far a law may be wrong, in the notation of a case
/// file, and why; nullptr: the kind has no such size, or no law of its own.
struct AssumedSize {
  const char* value = nullptr;
  const char* why = nullptr;
};

/// What is known of a kind of grille.
struct CoverKindInfo {
  const char* word;
  const char* says;
  bool is_long;  ///< its holes may be as long as the vent, and need their width along one side only
  AssumedSize open, hole, thickness;  ///< sizes of Cover
  AssumedSize inertial, viscous;      ///< factors on the two parts of its law (CoverLaw)
};

/// In the order of CoverKind.
constexpr CoverKindInfo kCoverKinds[] = {
    {"open",
     "nothing in the opening",
     false,
     {},
     {},
     {"0.6..1..2 mm", "wall around a bare opening: moulded shells and sheet metal; judgement"},
     {"1 ± 20 %",
      "discharge coefficients of 0.60 (window), 0.61 (orifice) and 0.68 to 0.69 (doors; Nakaya et al. "
      "1986, Bryant 2011, by their abstracts): a loss up to a fifth lower"},
     {"1 ± 20 %", "exact for a creeping flow (Sampson 1891); in between, and at real edges, judgement"}},
    {"perforated",
     "sheet with holes",
     false,
     {"25..40..55 %", "punched or moulded hole fields; judgement"},
     {"1..1.5..2.5 mm", "hole fields of small devices; judgement"},
     {"0.6..1..1.6 mm", "sheet metal and moulded shells; judgement"},
     {"1 ± 15 %",
      "plates scatter by 12 % about a law fitted to themselves (Özahi 2015, by its abstract); moulded "
      "edges add to it, judgement"},
     {"1 ± 20 %",
      "the coefficient of neighbouring holes is judgement, and the Reynolds number between the limits"}},
    {"mesh",
     "woven wire",
     false,
     {"30..45..60 %", "woven wire and dust screens; judgement"},
     {"0.3..0.5..1 mm", "insect and dust screens; judgement"},
     {"0.2..0.3..0.5 mm", "two wires thick; judgement"},
     {"1 ± 35 %",
      "published laws for screens of 25 to 68 % miss 3 of 11 screens by over 20 % (J-STAGE sasj 40(3), "
      "159, by its abstract): a normal error with 8 of 11 within 20 %"},
     {"1 ± 35 %",
      "the same measurements; their source leaves open which velocity the Reynolds number is made with"}},
    {"louvre",
     "fixed blades",
     true,
     {"30..50..70 %", "clear gaps between fixed blades; judgement"},
     {"2..3..5 mm", "gaps between moulded blades; judgement"},
     {"1..2..4 mm", "depth of moulded blades; judgement"},
     {"1 ± 50 %", "K of 1.5 to 4 for blades of one kind (Idelchik, from memory)"},
     {"1 ± 40 %", "blades taken as straight channels at 45 degrees; judgement"}},
    {"slots",
     "comb of parallel slots",
     true,
     {"35..50..65 %", "moulded combs with bars about as wide as the slots; judgement"},
     {"1..2..3.5 mm", "finger-safe slots; judgement"},
     {"0.8..1.2..2 mm", "moulded shells; judgement"},
     {"1 ± 25 %", "the table of round holes carried over to slots; judgement"},
     {"1 ± 20 %",
      "exact for a creeping flow through a thin grating; webs with thickness and the Reynolds number "
      "between the limits are judgement"}},
    {"foam",
     "open-cell foam or a layer of dust",
     false,
     {},
     {},
     {"3 mm */ 2", "filter foams of small devices; judgement"},
     {},
     {}}};
constexpr std::size_t kCoverKindCount = sizeof kCoverKinds / sizeof kCoverKinds[0];

constexpr const CoverKindInfo& info_of(CoverKind kind) { return kCoverKinds[static_cast<std::size_t>(kind)]; }

constexpr std::array<const char*, kCoverKindCount> words(CoverKind) {
  std::array<const char*, kCoverKindCount> out{};
  for (std::size_t i = 0; i < kCoverKindCount; ++i) out[i] = kCoverKinds[i].word;
  return out;
}

/// The grille of a vent.
struct Cover {
  CoverKind kind = CoverKind::open;
  Value open_ratio = 1.0;    ///< free-area ratio [-], 0 < open_ratio <= 1
  Value hole = 1.5e-3;       ///< hole diameter, wire gap or slot width [m]
  Value thickness = 1.0e-3;  ///< of the sheet, blade or layer; of the wall around a bare opening [m]
  Value permeability = 0.0;  ///< Darcy permeability of a foam or dust layer [m2]
  Value inertia = 0.0;       ///< Forchheimer coefficient of a foam or dust layer [1/m]
  bool loss_given = false;   ///< true: `loss` replaces the law of the kind
  Value loss = 0.0;          ///< loss coefficient on the face velocity [-], in and out losses included

  template <class Archive, class Self>
  static void fields(Archive& to, Self& cover) {
    to.field("kind", cover.kind);
    to.field("open_ratio", cover.open_ratio, "open");
    to.field("hole", cover.hole, "hole");
    to.field("thickness", cover.thickness, "thickness");
    to.field("permeability", cover.permeability, "permeability");
    to.field("inertia", cover.inertia, "inertia");
    to.field("loss_given", cover.loss_given);
    to.field("loss", cover.loss, "loss");
  }
};

}  // namespace tuft::geometry
