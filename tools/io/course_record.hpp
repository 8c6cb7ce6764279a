// A course in time of the plan layers as the writers take it: rows that grow while it is followed.
#pragma once

#include <string>
#include <vector>

#include "solver/flow2d/layer_course.hpp"
#include "tools/io/field_run.hpp"
#include "tools/io/look.hpp"

namespace tuft::output {

/// One moment that was written as fields.
struct CourseMoment {
  double time = 0.0;               ///< [s]
  std::vector<std::string> files;  ///< one a layer
};

struct CourseRecord {
  FieldRun field;                   ///< the case, the network's answer, cell; `plan` is the moment shown last
  std::string start;                ///< "cold", "steady:NAME"
  double until = 0.0, every = 0.0;  ///< asked for [s]
  std::vector<std::string> stores;  ///< what each heat store belongs to
  std::vector<plan::CourseStep> rows;
  std::vector<CourseMoment> moments;
  plan::Course end;
  bool partial = false;  ///< broken off before its end
};

/// A vent's course in a few numbers. Net flows count into the device [kg/s].
struct VentCourse {
  double last = 0.0, least = 0.0, greatest = 0.0;
  double settles = 0.0;  ///< from when on it stays within 2 % of the last through-flow of `last` [s]
};
VentCourse vent_course(const CourseRecord& record, std::size_t vent);

/// course.csv: a row a step, each number so that it reads back exactly.
std::string course_csv(const CourseRecord& record);
/// results.json.
std::string course_json(const CourseRecord& record, const std::vector<std::string>& files);
/// Net flows of the vents and temperatures over time, as SVG.
std::string course_chart(const CourseRecord& record);
/// What the terminal shows.
std::string course_text(const CourseRecord& record, const Look& look);
/// What such a course takes as steady all along, for a person.
std::string quasi_steady_words();

/// Throws NotFinite when a number of the course is not finite.
void require_finite(const CourseRecord& record);

}  // namespace tuft::output
