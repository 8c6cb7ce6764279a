#include "geometry/casefile/read_document.hpp"

#include "geometry/casefile/field_reader.hpp"
#include "geometry/casefile/generic.hpp"

namespace tuft::casefile {
namespace {

// A section that only says values.
template <class Thing>
void read_values(Reader& reader, const Item& item, Thing& thing) {
  if (item && reader.check_map(item)) FieldReader(reader, item).rest(thing);
}

void read_sections(Reader& reader, const Item& root) {
  geometry::Case& content = reader.content();
  geometry::Device& device = reader.device();
  collect_names(reader, root);
  read_values(reader, reader.child(root, "device"), device);
  const Item room = reader.child_or_empty(root, "room");
  read_values(reader, room, content.room);
  if (room.node->kind == Node::Kind::map) read_draught(reader, room, content.room.draught);
  read_zones(reader, root);
  reader.read_named("passages", device.passages, read_passage);
  reader.read_named("vents", device.vents, read_vent);
  read_leaks(reader, root);
  reader.read_named("fins", device.fin_stacks, read_stack);
  reader.read_named("fans", device.fans, read_fan);
  read_places(reader);  // what stands behind each vent and where things are, now that all is known
  reader.read_named("sources", device.sources, read_source);
  reader.read_named("parts", device.parts, read_part);
  add_ways_inside(reader);
  read_fin_metal(reader);  // needs to know which fins are joined
  reader.read_named("skin", device.skins, read_patch);
  reader.read_named("spots", reader.file.spots, read_spot);
  read_lid(reader, root);
  reader.read_named("poses", content.poses, read_pose);
  reader.read_named("supports", content.supports, read_support);
  read_loads(reader, root);
  read_conditions(reader, root);
  reader.read_named("sweeps", content.sweeps, read_sweep);
  read_values(reader, reader.child_or_empty(root, "roles"), content.thresholds);
  read_claims(reader, root);
  reader.read_named("photos", content.photos, read_photo);
  read_laws(reader, root);
  read_correlations(reader, root);
  read_joint_sample(reader, root);
  check_whole(reader);
  check_plausible(reader, root);
}

}  // namespace

void read_document(Node top, CaseFile& file, Report& report) {
  fill_in_generic(top, report);
  const Item root{&top, "", "", {1, 1}};
  Reader reader(file, report);
  reader.check_map(root);
  const Item version = reader.child(root, "tuft");
  if (version && reader.word(root, "tuft").empty()) return;  // another version may mean anything else
  read_sections(reader, root);
}

}  // namespace tuft::casefile
