// What a plume beside a stream brings back from above it (docs/theory.md, N9).
#pragma once

namespace tuft::network {

/// A plume that rises between two openings, beside the stream between them.
struct PlumeStream {
  double lower = 0.0,
         upper = 0.0;     ///< its flow at the height of the lower opening and of the upper [kg/s]; 0: none
  double exponent = 1.0;  ///< of its growth with height
  double evenness = 1.0;  ///< warmth of the air above the interface, its mean over that of the upper part
  double outside = 1.0;   ///< share of the section that it leaves to other air [-]

  /// Warm air that sinks from the upper part into the lower, and as much back, at a net flow [kg/s].
  struct Exchange {
    double flow = 0.0, slope = 0.0;
  };
  Exchange exchange(double net) const;

 private:
  // `evenness` where so much passes [kg/s], and its slope with that: nearly 1 where hardly any air does.
  struct Evenness {
    double value, slope;
  };
  Evenness evenness_at(double passing) const;
};

}  // namespace tuft::network
