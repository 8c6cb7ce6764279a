// Small helpers over VTK's classes. For vtk_*.cpp only: this header pulls in VTK.
#pragma once

#include <vtkNew.h>
#include <vtkPoints.h>
#include <vtkPolyData.h>

#include <string>
#include <vector>

#include "geometry/device/device.hpp"

class vtkDataSetAttributes;
class vtkXMLWriter;

namespace tuft::io {

/// Adds an array of one number a cell or point.
void add_numbers(vtkFieldData* data, const std::string& name, const std::vector<double>& values);
/// Adds an array of one whole number a cell or point.
void add_codes(vtkFieldData* data, const std::string& name, const std::vector<int>& values);
/// Adds an array of one text a cell or point. Text is made valid UTF-8.
void add_texts(vtkFieldData* data, const std::string& name, const std::vector<std::string>& values);

/// Adds velocities [m/s] in the world frame, one a cell or point, as the vectors "velocity_m_s".
void add_velocities(vtkDataSetAttributes* data, const std::vector<geometry::Vec3>& velocities);

/// Adds a point of the world; no coordinate is "-0". Returns its number.
vtkIdType add_point(vtkPoints* points, const geometry::Vec3& at);

/// What the writer was given, as text: the same bytes for the same data. Throws std::bad_alloc.
std::string as_text(vtkXMLWriter* writer);
/// The same for data and the writer of its kind of file.
template <class Writer, class Data>
std::string as_text(const Data& data) {
  vtkNew<Writer> writer;
  writer->SetInputData(data);
  return as_text(writer);
}

}  // namespace tuft::io
