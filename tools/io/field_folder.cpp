#include "tools/io/field_folder.hpp"

#include "tools/figure/png.hpp"
#include "tools/io/field_csv.hpp"
#include "tools/io/field_figures.hpp"
#include "tools/io/field_json.hpp"
#include "tools/io/field_vtk.hpp"
#include "tools/io/folder.hpp"
#include "tools/io/section_figures.hpp"
#include "tools/io/vtk.hpp"

namespace tuft::output {
namespace {

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
    const std::string name =
        "figures/" + field_.plan.layers[static_cast<std::size_t>(layer)].name + "-" + map_word(quantity);
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

std::vector<std::string> write_field(const FieldRun& field, const std::filesystem::path& place) {
  require_finite(field);
  ResultsFolder folder(place);
  std::vector<std::string> files = FolderWriter(field, folder).write_all();
  folder.publish();
  return files;
}

}  // namespace tuft::output
