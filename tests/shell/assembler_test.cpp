// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/assembler.hpp"

#include <catch2/catch.hpp>
#include <cstring>

#include "shell/small_panels.hpp"

using namespace calmplate;
using testing::Dice;

namespace {

struct Small {
  std::vector<int> dofs;
  Eigen::MatrixXd matrix;
};

/// Small matrices of sizes 1 to 7 on 23 degrees of freedom, some held, some named twice in a list.
std::vector<Small> small_matrices() {
  Dice dice;
  std::vector<Small> out;
  for (int e = 0; e < 40; ++e) {
    const int n = 1 + e % 7;
    Small s;
    for (int i = 0; i < n; ++i) s.dofs.push_back(static_cast<int>(12.0 + 12.0 * dice()) - 1);
    const Eigen::MatrixXd a = dice.matrix(n, n);
    s.matrix = a + a.transpose();
    out.push_back(s);
  }
  return out;
}

Eigen::MatrixXd plain_sum(const std::vector<Small>& list, int size) {
  Eigen::MatrixXd out = Eigen::MatrixXd::Zero(size, size);
  for (const Small& s : list)
    for (std::size_t i = 0; i < s.dofs.size(); ++i)
      for (std::size_t j = 0; j < s.dofs.size(); ++j)
        if (s.dofs[i] >= 0 && s.dofs[j] >= 0)
          out(s.dofs[i], s.dofs[j]) += s.matrix(static_cast<int>(i), static_cast<int>(j));
  return out;
}

constexpr int kSize = 25;

}  // namespace

// Source: derived. The sum written out; sizes, held numbers and repeats as small_matrices says.
TEST_CASE("assembly is the plain sum of the small matrices, held and repeated numbers included",
          "[shell][derived]") {
  const std::vector<Small> list = small_matrices();
  bool held = false, repeated = false;
  shell::Assembler a;
  CHECK(a.empty());
  for (const Small& s : list) {
    a.add(s.dofs.data(), s.matrix);
    for (std::size_t i = 0; i < s.dofs.size(); ++i) {
      held = held || s.dofs[i] < 0;
      for (std::size_t j = 0; j < i; ++j)
        repeated = repeated || (s.dofs[i] >= 0 && s.dofs[i] == s.dofs[j]);
    }
  }
  REQUIRE(held);
  REQUIRE(repeated);
  CHECK_FALSE(a.empty());
  const Eigen::SparseMatrix<double> k = a.build(kSize);
  const Eigen::MatrixXd exact = plain_sum(list, kSize);
  CHECK((Eigen::MatrixXd(k) - exact).cwiseAbs().maxCoeff() < 1e-14 * exact.cwiseAbs().maxCoeff());
  CHECK(k.isCompressed());
  for (int c = 0; c < kSize; ++c)
    for (int i = k.outerIndexPtr()[c] + 1; i < k.outerIndexPtr()[c + 1]; ++i)
      CHECK(k.innerIndexPtr()[i - 1] < k.innerIndexPtr()[i]);
}

TEST_CASE("one collection put behind another is as if all had been added to one", "[shell]") {
  const std::vector<Small> list = small_matrices();
  shell::Assembler whole, first, second;
  for (std::size_t e = 0; e < list.size(); ++e) {
    whole.add(list[e].dofs.data(), list[e].matrix);
    (e < 15 ? first : second).add(list[e].dofs.data(), list[e].matrix);
  }
  first.append(second);
  const Eigen::SparseMatrix<double> a = whole.build(kSize), b = first.build(kSize);
  REQUIRE(a.nonZeros() == b.nonZeros());
  const auto bytes = static_cast<std::size_t>(a.nonZeros()) * sizeof(double);
  CHECK(std::memcmp(a.valuePtr(), b.valuePtr(), bytes) == 0);
}

TEST_CASE("a small matrix of held numbers alone leaves nothing behind", "[shell]") {
  shell::Assembler a;
  const std::vector<int> dofs = {-1, -1};
  a.add(dofs.data(), Eigen::MatrixXd::Ones(2, 2));
  CHECK(a.empty());
  CHECK(a.build(3).nonZeros() == 0);
}

TEST_CASE("a number that is not below the size is refused", "[shell]") {
  shell::Assembler a;
  const std::vector<int> dofs = {0, 3};
  a.add(dofs.data(), Eigen::MatrixXd::Ones(2, 2));
  CHECK_THROWS_AS(a.build(3), std::out_of_range);
  CHECK(a.build(4).nonZeros() == 4);
}
