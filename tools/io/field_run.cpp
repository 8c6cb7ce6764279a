// Finiteness, network-and-field.csv and the folder of a field run.
#include "tools/io/field_run.hpp"

#include "tools/io/csv.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/field_lists.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/vtk.hpp"

namespace tuft::io {
namespace {

// Throws NotFinite for the first value of the cells that is not finite.
void require_finite(const FieldRun& field) {
  const auto all_of = [](const std::string& place, const flow2d::Array2& values) {
    for (const double value : values.values()) finite(value, place);
  };
  const auto cells_of = [&](const std::string& place, const auto& fields) {
    all_of(place + ".velocity", fields.u);
    all_of(place + ".velocity", fields.v);
    for_each_array(fields, [&](const numerics::ResultField& array, const flow2d::Array2& values) {
      all_of(place + "." + numerics::key_of(array), values);
    });
  };
  for (const flow2d::LayerFields& layer : field.plan.layers) cells_of("field." + layer.name, layer);
  if (!field.section) return;
  cells_of("section", field.section->result);
  for (const flow2d::Tracer& tracer : field.section->result.tracers) all_of("section.tracer", tracer.share);
}

constexpr int kPngWidth = 1650;  // [px]: half as wide again as the SVG's own size, sharp on a page

constexpr MapQuantity kMapped[] = {MapQuantity::temperature, MapQuantity::speed};

// One colour all over would tell nothing: then there is no map.
void draw_map(const FieldRun& field, const figure::FieldMap& map, MapQuantity quantity,
              const std::string& name, ResultsFolder& folder) {
  if (!is_uniform(map, quantity, map_unit(field, quantity)))
    folder.draw("figures/" + name + "-" + map_word(quantity), figure::field_map(map), kPngWidth);
}

void write_layers(const FieldRun& field, ResultsFolder& folder) {
  const geometry::Device& device = field.run.content.device;
  const std::vector<FlowLine> lines = flow_lines(device, field.plan, field.cell);
  std::vector<CollectionEntry> entries;
  for (std::size_t l = 0; l < field.plan.layers.size(); ++l) {
    const int layer = static_cast<int>(l);
    const std::string& name = field.plan.layers[l].name;
    folder.write("vtk/" + name + ".vti", layer_vti(field, layer));
    entries.push_back({0.0, layer, name + ".vti"});
    for (const MapQuantity quantity : kMapped)
      draw_map(field, layer_map(field, layer, quantity, lines), quantity, name, folder);
  }
  folder.write("vtk/streamlines.vtp", lines_vtp(field, lines));
  const study::ConditionResult vents = as_condition(field);
  folder.write("vtk/vents.vtp", device_vtp(device, pose_of(field), vents, flows_word(field)));
  folder.write("vtk/vents.flow.vtp", flow_vtp(device, pose_of(field), vents, flows_word(field)));
  folder.write("vtk/layers.pvd", collection_pvd(entries));
}

void write_section(const FieldRun& field, ResultsFolder& folder) {
  const std::vector<FlowLine> lines = section_lines(field);
  folder.write("vtk/section.vts", section_vts(field));
  folder.write("vtk/section-streamlines.vtp", section_lines_vtp(field, lines));
  for (const MapQuantity quantity : kMapped)
    draw_map(field, section_map(field, quantity, lines), quantity, "section", folder);
}

}  // namespace

std::string field_comparison_csv(const FieldRun& field) {
  const auto& device = field.run.content.device;
  std::vector<std::string> header = {"condition", "vent", "face", "leak"};
  add_headings<study::VentComparison>(header);
  add_headings<study::Side>(header, "network ");
  add_headings<study::Side>(header, "field ");
  for_each_difference(study::VentComparison{}, [&](const numerics::ResultField& difference, double) {
    header.push_back(numerics::heading_of(difference));
  });
  std::string text = csv_line(header);
  for (const study::VentComparison& row : field.comparison.vents) {
    const geometry::Vent& vent = at(device.vents, row.vent);
    std::vector<std::string> cells = {network_result(field).name, vent.name, geometry::face_word(vent.face),
                                      csv_yes_no(vent.is_leak)};
    for_each_field(row, AddCells(cells));
    for_each_field(row.network, AddCells(cells));
    for_each_field(row.field, AddCells(cells));
    for_each_difference(row, AddCells(cells));
    text += csv_line(cells);
  }
  return text;
}

std::vector<std::string> write_field(const FieldRun& field, const ResultsPlace& place) {
  require_finite(field);
  field_json(field, {});  // throws before anything begins
  ResultsFolder folder(place);
  folder.write("network-and-field.csv", field_comparison_csv(field));
  write_layers(field, folder);
  if (field.section) write_section(field, folder);
  folder.write("results.json", field_json(field, folder.contents()));
  folder.publish();
  return folder.files();
}

}  // namespace tuft::io
