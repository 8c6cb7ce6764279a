// A strip, thread or feather that hangs in the air and leans, and what a person sees of it.
#pragma once

#include <functional>
#include <optional>

#include "solver/physics/air.hpp"
#include "solver/physics/elastica.hpp"
#include "solver/physics/materials.hpp"

namespace tuft::physics {

/// A tell-tale as cut. `width` is a strip's width or a thread's diameter.
struct TellTale {
  bool is_thread = false;
  double length = 0.0;           ///< [m], > 0
  double width = 0.0;            ///< [m], > 0
  double mass_per_length = 0.0;  ///< [kg/m], > 0
  double stiffness = 0.0;        ///< bending stiffness of the whole width [N m2], >= 0
  double drag_factor = 1.0;      ///< of the force across, > 0
  EndCondition hold = EndCondition::hinge;
};

/// Strip of a sheet, nominal values; lengths in m.
TellTale strip_of(const SheetMaterial& material, double width, double length, EndCondition hold);
/// Piece of thread, nominal values.
TellTale thread_of(const ThreadMaterial& material, double length, EndCondition hold);

/// Where a tell-tale hangs, in the frame in which the air's velocity is given.
struct Hanging {
  Eigen::Vector3d place = {0.0, 0.0, 0.0};                  ///< of the hold [m]
  Eigen::Vector3d gravity = {0.0, 0.0, -standard_gravity};  ///< [m/s2]; zero for no weight
  Eigen::Vector3d direction = {0.0, 0.0, -1.0};             ///< from the hold along the strip, as clamped
  /// The strip's normal, or for a thread the direction in which it may lean; its part across `direction` is
  /// used, and must not vanish.
  Eigen::Vector3d facing = {1.0, 0.0, 0.0};
  double density = 1.2;       ///< of the air [kg/m3]
  double viscosity = 1.5e-5;  ///< kinematic [m2/s]
};

/// Air velocity [m/s] at a place [m].
using AirVelocity = std::function<Eigen::Vector3d(const Eigen::Vector3d& place)>;

/// How a tell-tale hangs in the air.
struct Deflection {
  Eigen::Vector2d rest_tip = {0.0, 0.0};  ///< tip in still air, along facing and direction [m]
  Eigen::Vector2d tip = {0.0, 0.0};       ///< tip in the air
  double lean = 0.0;                      ///< way of the tip along `facing` from rest [m], signed
  double travel = 0.0;                    ///< distance of the two tips [m]
  std::vector<Eigen::Vector3d> shape;     ///< points from hold to tip, in the air's frame
  bool converged = false;                 ///< false: no state of rest was found
};

/// The static deflection (docs/theory.md, I10, I11): elastica under weight, drag across by the component of
/// the velocity along the strip's normal, friction along it. It bends in the plane of `direction` and
/// `facing` alone: a strip is stiff edge-on, a thread is to be faced to where the air pushes it. Over a
/// strip's width the force is the mean over three Gauss points, so that a stream narrower than the strip
/// pushes it less. Throws std::invalid_argument for wrong numbers; what `air` throws passes through.
Deflection deflect(const TellTale& tell_tale, const Hanging& hanging, const AirVelocity& air);

/// The same with the air asked for at every step of Newton's method. `deflect` asks along two to five shapes
/// only and takes the air as straight from there, until a further look would turn no piece by more than 5e-4;
/// where it does not settle so (a stream as thin as a piece is long), it does this. The tips lie within 5e-4
/// of the length of each other.
Deflection deflect_step_by_step(const TellTale& tell_tale, const Hanging& hanging, const AirVelocity& air);

/// The same in even air along `facing`, which is met square on in the rest direction.
Deflection deflect_in_even_air(const TellTale& tell_tale, const Hanging& hanging, double speed);

/// A speed with its uncertainty.
struct FlutterSpeed {
  double speed = 0.0;  ///< [m/s]
  double low = 0.0;
  double high = 0.0;
};

/// Speed from which a tell-tale is likely to flutter instead of leaning quietly, gravity g [m/s2] along it:
///
///     U = (10/3.516) omega1 L,   omega1^2 = 12.36 B/(m L^4) + 1.446 g/L  (first term 0 on a hinge)
///
/// Flags in axial flow flutter from U L (m/B)^(1/2) of about 10 (two-dimensional theory 6 to 10, from memory;
/// experiments have always been more stable: Eloy C., Lagrange R., Souilliez C., Schouveiler L. (2008) J.
/// Fluid Mech., abstract). Written with the first frequency, in which the weight of a hanging strip counts as
/// stiffness; 3.516^2 = 12.36 cantilever, 1.446 = (2.405/2)^2 chain (derived). For a strip in a cross flow it
/// is a judgement, a factor of 2 either way, and eddies of a grille may shake it far below (I13).
FlutterSpeed flutter_speed(const TellTale& tell_tale, double gravity);

// What a person sees of a tell-tale, and the least air that shows.

/// What a person says of it.
enum class Seen {
  clearly,    ///< moves clearly
  hardly,     ///< moves a little, or perhaps
  not_at_all  ///< does not move
};

/// Who looks, and from where.
struct Viewing {
  double distance = 0.6;   ///< eye to tip [m], > 0; arm's length
  bool hand_held = false;  ///< held in the fingers, which tremble, instead of hung on a frame
  double width = 0.0;      ///< of the strip or thread, across the line of sight [m]; 0: wide enough
};

/// Share of its contrast [-], 0..1, that a width [m] > 0 keeps at a distance [m] > 0: all if it is seen under
/// an angle of a minute of arc (0.17 mm at arm's length), else its angle over that, as the eye spreads it so
/// wide. A minute is what the average eye just resolves: Merriam-Webster's Medical Dictionary, "visual
/// acuity" (two lines just seen as separate). That contrast is lost in that ratio: judgement. docs/theory.md,
/// I12.
double contrast_kept(double width, double distance);

/// Travel of the tip [m] at which half the people would say "hardly" instead of "not", and "clearly" instead
/// of "hardly": 5 and 17 mrad of the eye's angle, 3 and 10 mm at arm's length; three times that for a
/// hand-held strip, whose own tremble is of that size. What is finer than the eye resolves has to move
/// further, in the ratio in which it loses contrast (`contrast_kept`). Judgement, no source; one person's
/// threshold lies within a factor of 2 of it (95 %). docs/theory.md, I12.
struct SightThresholds {
  double hardly = 0.0;   ///< [m]
  double clearly = 0.0;  ///< [m]
};
SightThresholds sight_thresholds(const Viewing& viewing);

/// What is seen of a travel of the tip [m] >= 0, and how likely each answer is (sum 1).
struct Sight {
  Seen seen = Seen::not_at_all;  ///< by the nominal thresholds
  double clearly = 0.0;
  double hardly = 0.0;
  double not_at_all = 1.0;
};
Sight look(double travel, const Viewing& viewing);

/// Least even speed [m/s] along the tell-tale's facing at which it moves so far that it is seen (hardly) or
/// clearly seen, given its own width instead of that of `viewing`; empty if 30 m/s does not do it. The tip's
/// travel is taken to grow with the speed; one that finds no state of rest moves all the time, and is seen.
/// Throws for Seen::not_at_all.
std::optional<double> smallest_speed(const TellTale& tell_tale, const Hanging& hanging,
                                     const Viewing& viewing, Seen wanted);

}  // namespace tuft::physics
