// Small helpers over VTK's classes. For vtk_*.cpp only: this header pulls in VTK.
#pragma once

#include <vtkPolyData.h>

#include <string>
#include <vector>

class vtkFieldData;
class vtkXMLWriter;

namespace tuft::io {

/// Adds an array of one number a cell or point.
void add_numbers(vtkFieldData* data, const std::string& name, const std::vector<double>& values);
/// Adds an array of one whole number a cell or point.
void add_codes(vtkFieldData* data, const std::string& name, const std::vector<int>& values);
/// Adds an array of one text a cell or point. Text is made valid UTF-8.
void add_texts(vtkFieldData* data, const std::string& name, const std::vector<std::string>& values);

/// Writes what the writer was given as text, the same bytes for the same data. Throws VtkError.
void write_as_text(vtkXMLWriter* writer, const std::string& path);
/// Writes a .vtp file in text form, the same bytes for the same data. Throws VtkError.
void write_polydata(vtkPolyData* data, const std::string& path);

}  // namespace tuft::io
