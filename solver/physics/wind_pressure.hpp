// Pressure of moving air on the faces of a block, as published for buildings.
#pragma once

#include <Eigen/Core>

namespace tuft::physics {

/// Mean pressure coefficient [-] of an upright wall of a low building: pressure above that of the air far
/// away, over rho U^2 / 2. `angle` [rad], 0 .. pi, between the wall's outward normal and the direction the
/// air comes from; `side_ratio` [-] > 0, the wall's width over that of the wall beside it.
///
///     Cp/0.6 = ln(1.248 - 0.703 sin(a/2) - 1.175 sin^2 a + 0.131 sin^3(2 a G) + 0.769 cos(a/2)
///              + 0.071 G^2 sin^2(a/2) + 0.717 cos^2(a/2)),   G = ln(side ratio)                  (theory.md,
///              G8)
///
/// Swami M.V., Chandra S. (1987) Procedures for calculating natural ventilation airflow rates in buildings,
/// FSEC-CR-163-86, as transcribed in public code. (The sign of the sin^3 term differs between transcriptions;
/// with + a block's short sides have the stronger suction in wind on its long side.) Side ratios beyond 1/4
/// .. 4, the range of its data (from memory), count as those. The data are of turbulent wind; a small block
/// in the air of a room has Reynolds numbers of 100 to 3000, where nothing was found: judgement.
double wall_pressure_coefficient(double angle, double side_ratio);

/// Mean pressure coefficient of a level flat roof, whatever the direction: exposed low building of square
/// plan. Liddament M.W. (1996) A guide to energy efficient ventilation, AIVC, as transcribed in a public file
/// of profiles (oblong plans there: -0.7 to -0.8; among obstacles of its height: -0.4 to -0.5).
constexpr double roof_pressure_coefficient = -0.6;

/// A face of a block in the frame of the room, +z up.
struct BlockFace {
  Eigen::Vector3d normal = Eigen::Vector3d::UnitZ();  ///< outward, unit
  double side_ratio = 1.0;  ///< level width of the face over the block's depth behind it [-]
};

/// Pressure coefficient of a face in any attitude. `from`: level unit vector to where the air comes from.
/// Upright faces are walls, faces that look up are roofs; a face that looks down, with air below it, is taken
/// for the roof's mirror image. In between the two go over into each other as the square of the normal's
/// upward component (both judgement).
double block_pressure_coefficient(const BlockFace& face, const Eigen::Vector3d& from);

}  // namespace tuft::physics
