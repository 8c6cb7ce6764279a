// Finiteness, agreement.csv and the folder of a field run.
#include "tools/io/field_run.hpp"

#include <string>
#include <vector>

#include "tools/figure/png.hpp"
#include "tools/io/csv.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/field_lists.hpp"
#include "tools/io/field_vtk.hpp"
#include "tools/io/finite.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/vtk.hpp"
#include "tools/io/words.hpp"

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

// Writes one run; remembers the names of its files.
class FolderWriter {
 public:
  FolderWriter(const FieldRun& field, ResultsFolder& folder)
      : field_(field),
        folder_(folder),
        lines_(flow_lines(field.run.content.device, field.plan, field.cell)) {}

  std::vector<std::string> write_all() {
    files_ = {"results.json", "agreement.csv"};
    folder_.write("agreement.csv", agreement_csv(field_));
    std::vector<CollectionEntry> entries;
    for (std::size_t l = 0; l < field_.plan.layers.size(); ++l) {
      const int layer = static_cast<int>(l);
      const std::string& name = field_.plan.layers[l].name;
      write_layer_vti(path("vtk/" + name + ".vti"), field_, layer);
      entries.push_back({0.0, layer, name + ".vti"});
      for (const MapQuantity quantity : {MapQuantity::temperature, MapQuantity::speed})
        write_map(layer, quantity);
    }
    write_lines_vtp(path("vtk/streamlines.vtp"), field_, lines_);
    const study::ConditionResult vents = as_condition(field_);
    const geometry::Device& device = field_.run.content.device;
    write_device_vtp(path("vtk/vents.vtp"), device, pose_of(field_), vents);
    write_flow_vtp(path("vtk/vents.flow.vtp"), device, pose_of(field_), vents);
    put("vtk/layers.pvd", collection_pvd(entries));
    if (field_.section) write_section();
    folder_.write("results.json", field_json(field_, files_));
    return files_;
  }

 private:
  std::string path(const std::string& file) {
    files_.push_back(file);
    return folder_.path_for(file).string();
  }
  void put(const std::string& file, const std::string& bytes) {
    files_.push_back(file);
    folder_.write(file, bytes);
  }

  void write_section() {
    const std::vector<FlowLine> lines = section_lines(field_);
    write_section_vts(path("vtk/section.vts"), field_);
    write_section_lines_vtp(path("vtk/section-streamlines.vtp"), field_, lines);
    for (const MapQuantity quantity : {MapQuantity::temperature, MapQuantity::speed})
      draw(std::string("figures/section-") + map_word(quantity), section_map(field_, quantity, lines));
  }

  void write_map(int layer, MapQuantity quantity) {
    const std::string name = "figures/" + at(field_.plan.layers, layer).name + "-" + map_word(quantity);
    draw(name, layer_map(field_, layer, quantity, lines_));
  }

  void draw(const std::string& name, const figure::FieldMap& map) {
    const std::string svg = figure::field_map(map);
    put(name + ".svg", svg);
    put(name + ".png", figure::png_of_svg(svg, kPngWidth));
  }

  const FieldRun& field_;
  ResultsFolder& folder_;
  std::vector<FlowLine> lines_;
  std::vector<std::string> files_;
};

}  // namespace

std::string agreement_csv(const FieldRun& field) {
  const auto& device = field.run.content.device;
  std::vector<std::string> header = {"condition", "vent", "face", "leak"};
  add_headings<study::VentAgreement>(header);
  add_headings<study::Side>(header, "network ");
  add_headings<study::Side>(header, "field ");
  for_each_difference(study::VentAgreement{}, [&](const numerics::ResultField& difference, double) {
    header.push_back(numerics::heading_of(difference));
  });
  std::string text = csv_line(header);
  for (const study::VentAgreement& row : field.agreement.vents) {
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

std::vector<std::string> write_field(const FieldRun& field, const std::filesystem::path& place) {
  require_finite(field);
  field_json(field, {});  // throws before anything begins
  ResultsFolder folder(place);
  std::vector<std::string> files = FolderWriter(field, folder).write_all();
  folder.publish();
  return files;
}

}  // namespace tuft::io
