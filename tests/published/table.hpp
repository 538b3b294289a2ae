// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <string>

namespace calmplate::published {

/// Prints "case | computed | reference | difference | allowed" while it checks, one line a value.
class Table {
 public:
  explicit Table(const std::string& title) {
    std::printf("\n%s\n  %-44s %12s %12s %10s %9s\n",
                title.c_str(),
                "case",
                "computed",
                "reference",
                "diff %",
                "allowed");
  }
  Table(const Table&) = delete;
  Table& operator=(const Table&) = delete;
  ~Table() { std::fflush(stdout); }

  /// @param allowed  largest difference relative to the reference, no unit
  void row(const std::string& name, double computed, double reference, double allowed) {
    const double difference = computed / reference - 1.0;
    std::printf("  %-44s %12.6g %12.6g %+10.3f %8.1f%%\n",
                name.c_str(),
                computed,
                reference,
                100.0 * difference,
                100.0 * allowed);
    INFO(name << ": computed " << computed << ", reference " << reference);
    CHECK(std::abs(difference) <= allowed);
  }

  /// A value that must lie between two others.
  void between(const std::string& name, double value, double low, double high) {
    std::printf("  %-44s %12.6g   %g to %g allowed\n", name.c_str(), value, low, high);
    INFO(name << ": " << value << ", wanted from " << low << " to " << high);
    CHECK(value >= low);
    CHECK(value <= high);
  }
};

}  // namespace calmplate::published
