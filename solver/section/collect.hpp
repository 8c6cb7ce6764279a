// From a solved plane to its result.
#pragma once

#include "solver/field/residual.hpp"
#include "solver/section/tracer.hpp"

namespace tuft::section {

/// Fields and what carries tracers, of one state or the mean of many.
struct Fields {
  field::State state;
  field::Array2 density;
  Carriers carriers;
};

/// The fields of one state.
Fields fields_of(const Model& model, const field::State& state, field::Residual* residual);

/// Fills fields, vents, tracers and re-entry fractions.
void collect(const geometry::Case& content, const SectionGiven& given, const Model& model,
             const Fields& fields, SectionResult* result);

}  // namespace tuft::section
