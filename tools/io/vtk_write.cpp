#include "tools/io/vtk_write.hpp"

#include <fmt/format.h>
#include <vtkDataSetAttributes.h>
#include <vtkDoubleArray.h>
#include <vtkFieldData.h>
#include <vtkIntArray.h>
#include <vtkStringArray.h>
#include <vtkXMLWriter.h>

#include <new>

#include "tools/io/finite.hpp"
#include "tools/io/vtk.hpp"

namespace tuft::io {

void add_numbers(vtkFieldData* data, const std::string& name, const std::vector<double>& values) {
  vtkNew<vtkDoubleArray> array;
  array->SetName(name.c_str());
  for (const double value : values) array->InsertNextValue(finite(value, name));
  data->AddArray(array);
}

void add_codes(vtkFieldData* data, const std::string& name, const std::vector<int>& values) {
  vtkNew<vtkIntArray> array;
  array->SetName(name.c_str());
  for (const int value : values) array->InsertNextValue(value);
  data->AddArray(array);
}

void add_texts(vtkFieldData* data, const std::string& name, const std::vector<std::string>& values) {
  vtkNew<vtkStringArray> array;
  array->SetName(name.c_str());
  // A text ends at its first zero byte in this format; printable() leaves none.
  for (const std::string& value : values) array->InsertNextValue(printable(value));
  data->AddArray(array);
}

void add_velocities(vtkDataSetAttributes* data, const std::vector<geometry::Vec3>& velocities) {
  vtkNew<vtkDoubleArray> array;
  array->SetName("velocity_m_s");
  array->SetNumberOfComponents(3);
  for (const geometry::Vec3& v : velocities) array->InsertNextTuple3(v.x() + 0.0, v.y() + 0.0, v.z() + 0.0);
  data->SetVectors(array);
}

vtkIdType add_point(vtkPoints* points, const geometry::Vec3& at) {
  return points->InsertNextPoint(at.x() + 0.0, at.y() + 0.0, at.z() + 0.0);
}

std::string as_text(vtkXMLWriter* writer) {
  writer->WriteToOutputStringOn();
  writer->SetDataModeToAscii();
  writer->SetCompressorTypeToNone();  // text is not compressed anyway; keeps the word out of the header
  if (writer->Write() != 1) throw std::bad_alloc();  // nothing else can fail in memory
  return writer->GetOutputString();
}

// File names come from file_names_of() and need no XML escapes.
std::string collection_pvd(const std::vector<CollectionEntry>& entries) {
  std::string text =
      "<?xml version=\"1.0\"?>\n<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
      " <Collection>\n";
  for (const CollectionEntry& entry : entries)
    text += fmt::format("  <DataSet timestep=\"{}\" part=\"{}\" file=\"{}\"/>\n", entry.value + 0.0,
                        entry.part, entry.file);
  return text + " </Collection>\n</VTKFile>\n";
}

}  // namespace tuft::io
