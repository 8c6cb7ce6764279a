#include "tools/io/field_csv.hpp"

#include <fmt/format.h>

#include <vector>

#include "tools/io/csv.hpp"

namespace tuft::output {
namespace {

void add_side(const agreement::Side& side, std::vector<std::string>& cells) {
  cells.push_back(geometry::role_word(side.role));
  for (const double value : {side.inflow, side.outflow, side.temperature_in, side.temperature_out})
    cells.push_back(csv_number(value));
}

}  // namespace

std::string agreement_csv(const FieldRun& field) {
  const auto& device = field.run.content.device;
  std::vector<std::string> header = {"condition", "vent", "face", "leak", "shut", "roles differ"};
  for (const std::string who : {"network", "field"})
    for (const char* what :
         {" role", " gross in [kg/s]", " gross out [kg/s]", " temperature in [K]", " temperature out [K]"})
      header.push_back(who + what);
  for (const char* what : {"net flow apart over through-flow [-]", "net flow apart over own flow [-]",
                           "temperature apart [K]", "drawing share of area [-]"})
    header.emplace_back(what);
  std::string text = csv_line(header);
  for (const agreement::VentAgreement& row : field.agreement.vents) {
    const geometry::Vent& vent = device.vents[static_cast<std::size_t>(row.vent)];
    std::vector<std::string> cells = {network_result(field).name,     vent.name,
                                      geometry::face_word(vent.face), csv_yes_no(vent.is_leak),
                                      csv_yes_no(row.shut),           csv_yes_no(row.roles_differ)};
    add_side(row.network, cells);
    add_side(row.field, cells);
    for (const double value : {row.of_through_flow, row.flow, row.temperature, row.drawing_share})
      cells.push_back(csv_number(value));
    text += csv_line(cells);
  }
  return text;
}

}  // namespace tuft::output
