// SPDX-License-Identifier: GPL-3.0-or-later
#include "shell/assembler.hpp"

#include <algorithm>
#include <stdexcept>

namespace calmplate::shell {
namespace {

/// Place of (row, column) in a packed lower triangle of size n, row >= column.
std::size_t packed(std::size_t row, std::size_t column, std::size_t n) {
  return column * n - column * (column + 1) / 2 + row;
}

}  // namespace

void Assembler::add(const int* dofs, const Eigen::Ref<const Eigen::MatrixXd>& matrix) {
  std::vector<Eigen::Index> kept;
  for (Eigen::Index i = 0; i < matrix.rows(); ++i)
    if (dofs[i] >= 0) kept.push_back(i);
  for (std::size_t j = 0; j < kept.size(); ++j) {
    dofs_.push_back(dofs[kept[j]]);
    for (std::size_t i = j; i < kept.size(); ++i) values_.push_back(matrix(kept[i], kept[j]));
  }
  if (kept.empty()) return;
  start_.push_back(dofs_.size());
  value_start_.push_back(values_.size());
}

void Assembler::append(const Assembler& other) {
  const std::size_t dofs = dofs_.size(), values = values_.size();
  dofs_.insert(dofs_.end(), other.dofs_.begin(), other.dofs_.end());
  values_.insert(values_.end(), other.values_.begin(), other.values_.end());
  for (std::size_t e = 1; e < other.start_.size(); ++e) {
    start_.push_back(dofs + other.start_[e]);
    value_start_.push_back(values + other.value_start_[e]);
  }
}

Eigen::SparseMatrix<double> Assembler::build(int size) const {
  const auto n = static_cast<std::size_t>(size);
  // Which small matrices touch which column.
  std::vector<std::size_t> begin(n + 1, 0);
  for (const int d : dofs_) {
    if (d >= size)
      throw std::out_of_range("Assembler::build: a degree of freedom is not below size");
    ++begin[static_cast<std::size_t>(d) + 1];
  }
  for (std::size_t c = 0; c < n; ++c) begin[c + 1] += begin[c];
  struct Touch {
    std::size_t element, local;
  };
  std::vector<Touch> touches(dofs_.size());
  std::vector<std::size_t> fill(begin.begin(), begin.end() - 1);
  for (std::size_t e = 0; e + 1 < start_.size(); ++e)
    for (std::size_t k = start_[e]; k < start_[e + 1]; ++k)
      touches[fill[static_cast<std::size_t>(dofs_[k])]++] = {e, k - start_[e]};

  Eigen::SparseMatrix<double> out(size, size);
  std::vector<double> sum(n, 0.0);
  std::vector<int> mark(n, -1), rows;
  std::vector<int> inner;
  std::vector<double> value;
  for (int c = 0; c < size; ++c) {
    rows.clear();
    const auto column = static_cast<std::size_t>(c);
    for (std::size_t t = begin[column]; t < begin[column + 1]; ++t) {
      const std::size_t e = touches[t].element, j = touches[t].local;
      const std::size_t count = start_[e + 1] - start_[e];
      const double* v = values_.data() + value_start_[e];
      for (std::size_t i = 0; i < count; ++i) {
        const int row = dofs_[start_[e] + i];
        const auto r = static_cast<std::size_t>(row);
        if (mark[r] != c) {
          mark[r] = c;
          sum[r] = 0.0;
          rows.push_back(row);
        }
        sum[r] += i >= j ? v[packed(i, j, count)] : v[packed(j, i, count)];
      }
    }
    std::sort(rows.begin(), rows.end());
    out.outerIndexPtr()[c] = static_cast<int>(inner.size());
    for (const int row : rows) {
      inner.push_back(row);
      value.push_back(sum[static_cast<std::size_t>(row)]);
    }
  }
  out.outerIndexPtr()[size] = static_cast<int>(inner.size());
  out.resizeNonZeros(static_cast<Eigen::Index>(inner.size()));
  std::copy(inner.begin(), inner.end(), out.innerIndexPtr());
  std::copy(value.begin(), value.end(), out.valuePtr());
  return out;
}

}  // namespace calmplate::shell
