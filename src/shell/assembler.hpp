// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <vector>

namespace calmplate::shell {

/// Collects small symmetric matrices with the numbers of their degrees of freedom and adds them to
/// one sparse matrix. The order of addition is the order of add(), so the bytes of the result are
/// always the same. Degrees of freedom below 0 are held and dropped.
class Assembler {
 public:
  /// @param dofs    [n] numbers, below 0: held
  /// @param matrix  [n x n] symmetric
  void add(const int* dofs, const Eigen::Ref<const Eigen::MatrixXd>& matrix);

  /// Adds all that another one holds, after what is here.
  void append(const Assembler& other);

  bool empty() const noexcept { return start_.size() < 2; }

  /// @param size  number of degrees of freedom; every number added must be below it
  /// @return      [size x size], both triangles stored, rows of each column ascending
  /// @throws std::out_of_range if a number is not below size
  Eigen::SparseMatrix<double> build(int size) const;

 private:
  std::vector<int> dofs_;
  std::vector<double> values_;  ///< packed lower triangles, column by column
  std::vector<std::size_t> start_ = {0};
  std::vector<std::size_t> value_start_ = {0};
};

}  // namespace calmplate::shell
