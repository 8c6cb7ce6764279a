#include "solver/experiment/look.hpp"

#include <algorithm>
#include <cmath>

namespace tuft::experiment {

bool flutters_at(const NamedTellTale& cut, const Response& response, double speed) {
  return std::abs(speed) >
         std::min(response.quiet_up_to(), physics::flutter_speed(cut.body, physics::standard_gravity).speed);
}

std::size_t Responses::slot(std::size_t cut, const Mounting& mounting) {
  const std::size_t attitude = mounting.attitude == Attitude::hanging ? 0 : mounting.up > 0.0 ? 1 : 2;
  return 3 * cut + attitude;
}

void Responses::prepare(const std::vector<Mounting>& mountings) {
  struct Job {
    std::size_t cut;
    Mounting mounting;
  };
  std::vector<Job> jobs;
  for (std::size_t c = 0; c < tell_tale_kit().size(); ++c) {
    for (const Mounting& mounting : mountings) {
      const bool level = mounting.attitude == Attitude::level;
      if (level && tell_tale_kit()[c].own_hinge) continue;
      const auto same = [&](const Job& job) { return slot(job.cut, job.mounting) == slot(c, mounting); };
      if (!made_[slot(c, mounting)] && std::none_of(jobs.begin(), jobs.end(), same))
        jobs.push_back({c, mounting});
    }
  }
  const int count = static_cast<int>(jobs.size());
#pragma omp parallel for schedule(dynamic)
  for (int j = 0; j < count; ++j) {
    const Job& job = jobs[j];
    made_[slot(job.cut, job.mounting)] =
        std::make_shared<Response>(tell_tale_kit()[job.cut], job.mounting.attitude, job.mounting.up, air_);
  }
}

const Response* Responses::of(const NamedTellTale& cut, const Mounting& mounting) const {
  for (std::size_t c = 0; c < tell_tale_kit().size(); ++c)
    if (tell_tale_kit()[c].name == cut.name) return made_[slot(c, mounting)].get();
  return nullptr;
}

std::vector<Part> parts_of(const geometry::Vent& vent, const Vec3& gravity, geometry::Role here,
                           geometry::Role in_use) {
  const bool both = here == geometry::Role::both_ways || in_use == geometry::Role::both_ways;
  const bool tall = (place_before(vent, gravity, kUsualDistance, Part::upper) -
                     place_before(vent, gravity, kUsualDistance, Part::lower))
                        .norm() > 1e-6;
  if (both && tall) return {Part::upper, Part::lower};
  return {Part::middle};
}

double right_chance(geometry::Role in_use, const std::vector<LeanChances>& parts) {
  if (parts.empty()) return 0.0;
  if (in_use == geometry::Role::both_ways) {
    if (parts.size() < 2) return 0.0;
    const LeanChances &a = parts[0], &b = parts[1];
    return std::max(a.out * b.in, a.in * b.out);
  }
  double least = 1.0;
  for (const LeanChances& part : parts) {
    const double right = in_use == geometry::Role::intake    ? part.in
                         : in_use == geometry::Role::exhaust ? part.out
                                                             : part.still;
    least = std::min(least, right);
  }
  return least;
}

double wrong_chance(geometry::Role in_use, const std::vector<LeanChances>& parts) {
  if (in_use == geometry::Role::both_ways) {
    if (parts.size() < 2) return parts.empty() ? 0.0 : parts[0].in + parts[0].out;
    return parts[0].out * parts[1].out + parts[0].in * parts[1].in;
  }
  double most = 0.0;
  for (const LeanChances& part : parts) {
    const double wrong = in_use == geometry::Role::intake    ? part.out
                         : in_use == geometry::Role::exhaust ? part.in
                                                             : part.in + part.out;
    most = std::max(most, wrong);
  }
  return most;
}

LookAt look_at(const geometry::Case& content, const study::ConditionResult& result, const OutsideAir& air,
               const Responses& responses, const NamedTellTale& cut, const Probe& probe,
               const std::vector<Part>& parts, geometry::Role in_use, const SectionAir* section) {
  const geometry::Vent& vent = content.device.vents[probe.vent];
  LookAt look;
  look.cut = &cut;
  look.distance = probe.distance;
  look.parts = parts;
  const Response* response = responses.of(cut, mounting_of(vent.face, air.gravity()));
  if (response == nullptr) return look;
  const double reynolds = jet_reynolds(vent, result.vents[probe.vent], air);
  for (const Part part : parts) {
    const Vec3 place = place_before(vent, air.gravity(), probe.distance, part);
    const physics::Hanging hanging = hang(cut, vent.face, air, place);
    const double by_law = even_speed(cut, hanging, air);
    const bool read = section != nullptr && section->cuts(probe.vent) && section->holds(hanging);
    const double speed =
        read ? even_speed(cut, hanging, [&](const Vec3& at) { return section->velocity(at); }) : by_law;
    look.by_law.push_back(by_law);
    look.by_section.push_back(read);
    look.speeds.push_back(speed);
    look.leans.push_back(response->lean(speed));
    look.flutters = look.flutters || flutters_at(cut, *response, speed);
    look.chances.push_back(lean_chances(*response, speed, speed_sigma(speed, reynolds, probe, air),
                                        viewing_of(cut, probe.eye, probe.hand_held)));
  }
  look.right = right_chance(in_use, look.chances);
  look.wrong = wrong_chance(in_use, look.chances);
  return look;
}

Finding finding_of(double right, double wrong) {
  if (wrong >= kMisleadsFrom) return Finding::wrong;
  return right >= kShowsFrom ? Finding::right : Finding::nothing;
}

bool out_of_reach(const study::VentResult& vent, double distance) {
  return vent.shut || (vent.near_surface && vent.gap < distance);
}

}  // namespace tuft::experiment
