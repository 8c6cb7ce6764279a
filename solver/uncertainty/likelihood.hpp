// What an instrument says when the true value is so and so: error models.
#pragma once

#include <variant>
#include <vector>

namespace tuft::uncertainty {

/// Reads the value with a normal error of standard deviation sqrt(absolute^2 + (relative * value)^2).
struct GaussianError {
  double absolute = 1.0;  ///< [unit of the reading], > 0
  double relative = 0.0;  ///< [-], >= 0
};

/// Something that leans one way (reading 1), the other way (-1), or shows nothing (0): it leans if the signal
/// plus a normal error of deviation `width` is beyond `threshold` on that side; in a share `lapse` of cases
/// the answer is a toss-up.
struct LeanError {
  double threshold = 1.0;  ///< [unit of the signal], > 0
  double width = 0.1;      ///< [unit of the signal], > 0
  double lapse = 0.02;     ///< [-], 0 to below 1
};

using ErrorModel = std::variant<GaussianError, LeanError>;

/// Throws std::invalid_argument if a number of the model breaks its rule.
void require_valid(const ErrorModel& model);

/// Throws std::invalid_argument if the model can't give this reading: not finite, not one of outcomes().
void require_possible(const ErrorModel& model, double reading);

/// The readings a model can give if they can be listed, rising; empty if it reads a number.
std::vector<double> outcomes(const ErrorModel& model);

/// Share of the readings that are a toss-up; 0 for a model that reads a number.
double lapse_of(const ErrorModel& model);
/// The same model without its toss-ups.
ErrorModel without_lapse(ErrorModel model);

/// Log of the probability (or density) of a reading if the instrument is shown each of the values (D11);
/// minus infinity if it can't be. Throws as the two checks do, or if a value is not finite.
std::vector<double> log_likelihood(const ErrorModel& model, double reading, const std::vector<double>& shown);

/// What the instrument reads when shown a value: the reading below which a part `u` of its readings lies.
/// @pre require_valid passes, `shown` is finite, 0 < u < 1.
double simulated_reading(const ErrorModel& model, double shown, double u);

/// Where a reading lies among those the instrument would give when shown a value.
struct ReadingPlace {
  double below = 0.0;  ///< probability of a smaller reading
  double equal = 0.0;  ///< probability of just this one; 0 for numbers
};

/// @pre require_valid and require_possible pass, `shown` is finite.
ReadingPlace place_of_reading(const ErrorModel& model, double reading, double shown);

}  // namespace tuft::uncertainty
