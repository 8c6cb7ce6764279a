#include "solver/flow2d/layer_model.hpp"

#include <optional>

#include "solver/flow2d/layers.hpp"

namespace tuft::flow2d {
namespace {

using geometry::CellShare;
using geometry::CellShares;
using geometry::Vec3;

class Builder {
 public:
  Builder(const geometry::Case& content, const geometry::Condition& condition, const LayerBoundaryData& given,
          double cell)
      : case_(content), condition_(condition), given_(given) {
    check_condition(content, condition);
    check_boundary_data(content.device, given);
    model_.raster = geometry::rasterise(content.device, cell);
    model_.network = network::assemble(content, condition, network::ZoneAir::mixed);
    model_.power = set_given(content.device, given, &model_.network);
    model_.layered = network::assemble(content, condition);
    set_given(content.device, given, &model_.layered);
  }

  LayerModel build() {
    for (std::size_t s = 0; s < model_.raster.storeys.size(); ++s)
      model_.layers.push_back(
          inside_layer(case_.device, model_.raster, model_.network, given_, static_cast<int>(s)));
    for (Layer& layer : model_.layers)
      for (HeatedChannels& channels : layer.problem.channels)
        channels.fins.film_factor = *case_.laws.fin_heat;
    add_gaps();
    set_nodes();
    add_vents();
    add_gap_fabric();
    add_node_ways();
    add_passages();
    add_fans();
    add_fin_exits();
    for (Link& link : model_.links)
      if (link.kind != LinkKind::opening) link.outside = graph().ambient.temperature;
    mark_coupled();
    return std::move(model_);
  }

 private:
  const network::Graph& graph() const { return model_.network.graph; }
  const network::Layout& layout() const { return model_.network.layout; }
  const Vec3& gravity() const { return graph().ambient.gravity; }
  double conductivity() const { return model_.layers[0].problem.fluid.conductivity; }

  // --- layers and nodes ---

  /// Where a graph node went: a gap layer, a part of the inside, or a node that stays.
  struct Whereabouts {
    int gap_layer = -1;
    int node = -1;
  };

  void add_gaps() {
    where_.resize(graph().nodes.size());
    const network::Ambient& ambient = graph().ambient;
    const network::OutsidePressure room_air(case_, condition_,
                                            physics::density(ambient.state, ambient.temperature));
    for (const GapPlace& place : gap_places(case_, condition_)) {
      std::vector<int> members;
      for (std::size_t v = 0; v < case_.device.vents.size(); ++v)
        for (const int o : layout().vent_openings[v]) {
          const int far = graph().openings[o].b;
          if (far != network::kOutside && case_.device.vents[v].face == place.surface.face)
            members.push_back(far);
        }
      if (members.empty()) continue;
      std::optional<Layer> layer = gap_layer(case_.device, model_.raster, model_.network, room_air, place);
      if (!layer) continue;  // shut everywhere: its vents keep the network's pockets
      for (const int node : members) where_[node].gap_layer = static_cast<int>(model_.layers.size());
      model_.layers.push_back(std::move(*layer));
      surfaces_.push_back(place.surface);
    }
  }

  /// Graph nodes that are neither zone, fins nor gap layer stay well mixed.
  void set_nodes() {
    std::vector<bool> in_field(graph().nodes.size(), false);
    for (const int z : layout().zone_node) in_field[z] = true;
    for (std::size_t f = 0; f < layout().fin_opening.size(); ++f) {
      const network::Opening& fins = graph().openings[layout().fin_opening[f]];
      model_.fin_entry_node.push_back(fins.a);
      in_field[fins.a] = in_field[fins.b] = true;
    }
    for (std::size_t n = 0; n < graph().nodes.size(); ++n) {
      if (in_field[n] || where_[n].gap_layer >= 0) continue;
      where_[n].node = static_cast<int>(model_.nodes.size());
      model_.nodes.push_back(static_cast<int>(n));
    }
  }

  End cell_end(const CellRef& cell, const Vec3& at) const {
    End end;
    end.kind = EndKind::cell;
    end.cell = cell;
    end.lever = gravity().dot(at - centre(cell));
    return end;
  }

  Vec3 centre(const CellRef& cell) const {
    return {model_.raster.x(cell.i), model_.raster.y(cell.j),
            model_.layers[cell.layer].height(cell.i, cell.j)};
  }

  /// The outside with the pressure of the room's air there, or a space that stayed well mixed.
  End far_end(int graph_node, const Vec3& at, double outside) const {
    End end;
    end.pressure = outside;
    if (graph_node == network::kOutside) return end;
    end.kind = EndKind::node;
    end.index = where_[graph_node].node;
    end.lever = gravity().dot(at - graph().nodes[graph_node].reference);
    return end;
  }

  // --- vents ---

  void add_vents() {
    for (std::size_t v = 0; v < case_.device.vents.size(); ++v)
      for (const int o : layout().vent_openings[v]) add_vent_opening(static_cast<int>(v), o);
  }

  void add_vent_opening(int v, int o) {
    const network::Opening& opening = graph().openings[o];
    const int gap = opening.b == network::kOutside ? -1 : where_[opening.b].gap_layer;
    const CellShares& inside = model_.raster.vents[v];
    if (!inside.empty()) {
      for (const CellShare& share : inside) add_cell_opening(v, opening, share, gap);
    } else if (gap >= 0) {
      for (const CellShare& share : model_.raster.faces[v]) add_reversed_opening(v, opening, share, gap);
    } else {
      add_opening_link(o, v, outside_at(v));
    }
  }

  double outside_at(int v) const {
    return given_.outside.empty() ? graph().ambient.temperature : given_.outside[v];
  }

  void add_cell_opening(int v, const network::Opening& opening, const CellShare& share, int gap) {
    CellOpening part;
    part.vent = v;
    part.outside = outside_at(v);
    part.a = cell_end({share.storey, share.i, share.j}, share.at);
    part.law = opening_law(opening, gravity(), conductivity(), opening.area * share.share, share.first,
                           share.second);
    if (gap < 0) {
      part.b = far_end(opening.b, share.at, opening.outside);
    } else if (open_in(gap, share.i, share.j)) {
      part.b = cell_end({gap, share.i, share.j}, share.at);
    } else {
      if (!pocket(v, gap, &part.law)) return;
    }
    model_.openings.push_back(part);
  }

  bool open_in(int gap, int i, int j) const { return !model_.layers[gap].problem.is_solid(i, j); }

  /// A cell whose gap is shut breathes through the pocket under it, if what it lies on lets air through: the
  /// vent and the fabric one behind the other, as the network has it.
  bool pocket(int v, int gap, OpeningLaw* law) const {
    const network::Surface& surface = surfaces_[static_cast<std::size_t>(gap) - model_.raster.storeys.size()];
    if (!surface.breathes) return false;
    const geometry::Vent& vent = case_.device.vents[v];
    const double covered = layout().front[v].covered;
    const double under = (1.0 - covered) * vent.width * vent.height;
    const double pocket_area = under + 2.0 * (vent.width + vent.height) * surface.thickness;
    law->law = physics::in_series(law->law, physics::on_face(surface.fabric, pocket_area / law->whole.area));
    return true;
  }

  /// A vent with a fan right behind it, seen from the gap it opens into.
  void add_reversed_opening(int v, const network::Opening& opening, const CellShare& share, int gap) {
    if (!open_in(gap, share.i, share.j)) return;
    CellOpening part;
    part.vent = v;
    part.reversed = true;
    part.a = cell_end({gap, share.i, share.j}, share.at);
    part.b = far_end(opening.a, share.at, opening.outside);
    part.law = opening_law(opening, gravity(), conductivity(), opening.area * share.share, share.first,
                           share.second);
    part.law.exchange_lever = -part.law.exchange_lever;
    model_.openings.push_back(part);
  }

  void add_gap_fabric() {
    const std::size_t first = model_.raster.storeys.size();
    for (std::size_t g = first; g < model_.layers.size(); ++g) {
      const network::Surface& surface = surfaces_[g - first];
      if (!surface.breathes) continue;
      const Array2 area = fabric_area(case_.device, model_.raster, model_.network, surface);
      for (int j = 0; j < area.ny(); ++j)
        for (int i = 0; i < area.nx(); ++i) {
          if (!(area(i, j) > 0.0) || !open_in(static_cast<int>(g), i, j)) continue;
          CellOpening part;
          part.outside = graph().ambient.temperature;
          part.a = cell_end({static_cast<int>(g), i, j}, centre({static_cast<int>(g), i, j}));
          part.law.law = surface.fabric;
          part.law.area = area(i, j);
          model_.openings.push_back(part);
        }
    }
  }

  /// Ways out of the gaps that stayed spaces of the network: under an edge, or shut to a pocket everywhere.
  void add_node_ways() {
    std::vector<bool> done(graph().openings.size(), false);
    for (const auto& list : layout().vent_openings)
      for (const int o : list) done[o] = true;
    for (const int o : layout().fin_opening) done[o] = true;
    for (std::size_t o = 0; o < done.size(); ++o) {
      const network::Opening& opening = graph().openings[o];
      if (done[o] || opening.a == network::kOutside) continue;
      if (where_[opening.a].node < 0) continue;
      add_opening_link(static_cast<int>(o), -1, graph().ambient.temperature);
    }
  }

  // --- links ---

  /// An opening neither of whose sides has cells. Its flow is an unknown, as in the network: where it has no
  /// viscous part, flow is no smooth function of pressure.
  void add_opening_link(int o, int vent, double outside) {
    const network::Opening& opening = graph().openings[o];
    Link link;
    link.kind = LinkKind::opening;
    link.name = opening.name;
    link.vent = vent;
    link.outside = outside;
    link.graph_opening = o;
    link.a = far_end(opening.a, opening.centre, opening.outside);
    link.b = far_end(opening.b, opening.centre, opening.outside);
    link.law = opening_law(opening, gravity(), conductivity(), opening.area, opening.width.norm(),
                           opening.height.norm());
    model_.links.push_back(std::move(link));
  }

  End group_end(const CellShares& shares, const Vec3& at) {
    Group group;
    for (const CellShare& share : shares) {
      const CellRef cell{share.storey, share.i, share.j};
      group.members.push_back({cell, share.share, gravity().dot(at - centre(cell))});
    }
    End end;
    end.kind = EndKind::group;
    end.index = static_cast<int>(model_.groups.size());
    model_.groups.push_back(std::move(group));
    return end;
  }

  void add_passages() {
    for (std::size_t p = 0; p < case_.device.passages.size(); ++p) {
      const geometry::Passage& passage = case_.device.passages[p];
      const int a = layout().zone_node[passage.zone_a];
      const int b = layout().zone_node[passage.zone_b];
      for (std::size_t o = 0; o < graph().openings.size(); ++o) {
        const network::Opening& opening = graph().openings[o];
        if (opening.name != passage.name || opening.a != a || opening.b != b) continue;
        Link link;
        link.graph_opening = static_cast<int>(o);
        link.kind = LinkKind::passage;
        link.name = passage.name;
        link.index = static_cast<int>(p);
        link.a = group_end(model_.raster.passages[p].a, opening.centre);
        link.b = group_end(model_.raster.passages[p].b, opening.centre);
        link.law = opening_law(opening, gravity(), conductivity(), opening.area, opening.width.norm(),
                               opening.height.norm());
        model_.links.push_back(std::move(link));
        break;
      }
    }
  }

  void add_fans() {
    for (std::size_t f = 0; f < case_.device.fans.size(); ++f) {
      const int element = layout().fan_element[f];
      const network::FanElement& fan = graph().fans[element];
      const CellShares& inlet = model_.raster.fan_inlets[f];
      const CellShares& outlet = model_.raster.fan_outlets[f];
      Link link;
      link.kind = LinkKind::fan;
      link.name = fan.name;
      link.index = static_cast<int>(f);
      link.graph_fan = element;
      link.a = inlet.empty() ? far_end(fan.a, fan.centre, 0.0) : group_end(inlet, fan.centre);
      link.b = outlet.empty() ? far_end(fan.b, fan.centre, 0.0) : group_end(outlet, fan.centre);
      model_.links.push_back(std::move(link));
    }
  }

  void add_fin_exits() {
    for (std::size_t f = 0; f < model_.raster.fins.size(); ++f) {
      if (model_.raster.fin_outlets[f].empty()) continue;
      const Vec3& at = case_.device.fin_stacks[f].centre;
      Link link;
      link.name = case_.device.fin_stacks[f].name + " (exit)";
      link.graph_opening = layout().fin_opening[f];
      link.index = static_cast<int>(f);
      link.a = group_end(model_.raster.fins[f].exit, at);
      link.b = group_end(model_.raster.fin_outlets[f], at);
      model_.links.push_back(std::move(link));
    }
  }

  void mark_coupled() {
    for (Layer& layer : model_.layers) layer.problem.coupled = Mask(model_.raster.nx, model_.raster.ny);
    const auto mark = [this](const CellRef& c) { model_.layers[c.layer].problem.coupled(c.i, c.j) = 1; };
    for (const CellOpening& part : model_.openings) {
      mark(part.a.cell);
      if (part.b.kind == EndKind::cell) mark(part.b.cell);
    }
    for (const Group& group : model_.groups)
      for (const Group::Member& member : group.members) mark(member.cell);
  }

  const geometry::Case& case_;
  const geometry::Condition& condition_;
  const LayerBoundaryData& given_;
  LayerModel model_;
  std::vector<Whereabouts> where_;
  std::vector<network::Surface> surfaces_;  // of the gap layers
};

}  // namespace

LayerModel make_model(const geometry::Case& content, const geometry::Condition& condition,
                      const LayerBoundaryData& given, double cell) {
  return Builder(content, condition, given, cell).build();
}

}  // namespace tuft::flow2d
