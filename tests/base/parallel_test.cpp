// SPDX-License-Identifier: GPL-3.0-or-later
#include "base/parallel.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>
#include <string>
#include <vector>

using calmplate::base::parallel_for;

TEST_CASE("every index is visited once, on any number of threads", "[base]") {
  const unsigned threads = GENERATE(1u, 2u, 7u);
  const std::size_t count = GENERATE(as<std::size_t>{}, 0, 1, 5, 1000);
  std::vector<int> visits(count, 0);
  parallel_for(count, threads, [&](std::size_t i) { ++visits[i]; });
  CHECK(visits == std::vector<int>(count, 1));
}

TEST_CASE("of several exceptions the one with the lowest index is thrown on", "[base]") {
  // Both faults are reached: each thread takes one of the two indices and waits for nobody.
  const auto run = [](unsigned threads) {
    std::string caught;
    try {
      parallel_for(2, threads, [](std::size_t i) {
        throw std::runtime_error("fault " + std::to_string(i));
      });
    } catch (const std::runtime_error& fault) {
      caught = fault.what();
    }
    return caught;
  };
  CHECK(run(1) == "fault 0");
  CHECK(run(2) == "fault 0");
}

TEST_CASE("no work is begun after a fault", "[base]") {
  int begun = 0;
  CHECK_THROWS_AS(parallel_for(100,
                               1,
                               [&](std::size_t i) {
                                 ++begun;
                                 if (i == 3) throw std::runtime_error("fault");
                               }),
                  std::runtime_error);
  CHECK(begun == 4);
}

TEST_CASE("no threads is a wrong call", "[base]") {
  CHECK_THROWS_AS(parallel_for(1, 0, [](std::size_t) {}), std::invalid_argument);
  CHECK(calmplate::base::hardware_threads() >= 1);
}
