// The way of a particle of air through one cell, exactly for velocities linear between the faces (F39).
#pragma once

namespace tuft::field {

/// Masses that pass the four faces of a cell, + along the axes, and the air in it.
struct CellFlow {
  double left = 0.0, right = 0.0;  ///< [kg/s]; a section: [kg/(s m)]
  double bottom = 0.0, top = 0.0;
  double mass = 0.0;  ///< > 0 [kg]; a section: [kg/m]
};

enum class CellExit { none, left, right, bottom, top };

/// Where a particle is after its way through a cell, or through part of it.
struct CellPass {
  double x = 0.0, y = 0.0;  ///< in the cell, 0..1 from its lower left corner [-]
  double time = 0.0;        ///< taken [s]
  CellExit exit = CellExit::none;
};

/// From a place in the cell to the face it leaves by, or as far as it comes in `most` seconds. The flow
/// through the cell changes evenly from face to face along each axis, so the way is known in closed form:
/// nothing is stepped, no particle leaves by a face without flow, and where the faces of all cells balance, a
/// closed streamline is closed (Pollock's method, Ground Water 26(6), 1988; from memory, derived anew).
CellPass pass_cell(const CellFlow& flow, double x, double y, double most);

}  // namespace tuft::field
