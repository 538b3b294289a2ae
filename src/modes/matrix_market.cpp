// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/matrix_market.hpp"

#include <cstdio>
#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "base/safe_output.hpp"

namespace calmplate::modes {

namespace {
constexpr const char* kBanner = "%%MatrixMarket matrix coordinate real symmetric";
}

void write_matrix_market(const std::filesystem::path& path, const Eigen::SparseMatrix<double>& A) {
  if (A.rows() != A.cols()) throw std::invalid_argument("matrix to write must be square");
  const Eigen::SparseMatrix<double> lower = A.triangularView<Eigen::Lower>();
  std::string text = std::string(kBanner) + "\n" + std::to_string(A.rows()) + " " +
                     std::to_string(A.cols()) + " " + std::to_string(lower.nonZeros()) + "\n";
  char line[96];
  for (Eigen::Index j = 0; j < lower.outerSize(); ++j) {
    for (Eigen::SparseMatrix<double>::InnerIterator it(lower, j); it; ++it) {
      std::snprintf(line,
                    sizeof line,
                    "%ld %ld %.17g\n",
                    static_cast<long>(it.row() + 1),
                    static_cast<long>(it.col() + 1),
                    it.value());
      text += line;
    }
  }
  base::write_file_whole(path, text);
}

Eigen::SparseMatrix<double> read_matrix_market(const std::filesystem::path& path) {
  std::ifstream in(path);
  std::string line;
  if (!std::getline(in, line) || line != kBanner)
    throw std::runtime_error(path.string() + ": not a real symmetric MatrixMarket file");
  while (in.peek() == '%') std::getline(in, line);
  long rows = 0, columns = 0, count = 0;
  if (!(in >> rows >> columns >> count) || rows < 0 || rows != columns || count < 0)
    throw std::runtime_error(path.string() + ": size line is not 'n n count'");
  std::vector<Eigen::Triplet<double>> entries;
  for (long e = 0; e < count; ++e) {
    long i = 0, j = 0;
    double value = 0.0;
    if (!(in >> i >> j >> value) || i < 1 || j < 1 || i > rows || j > columns)
      throw std::runtime_error(path.string() + ": entry " + std::to_string(e + 1) +
                               " is missing or outside the matrix");
    entries.emplace_back(static_cast<int>(i - 1), static_cast<int>(j - 1), value);
    if (i != j) entries.emplace_back(static_cast<int>(j - 1), static_cast<int>(i - 1), value);
  }
  Eigen::SparseMatrix<double> A(rows, columns);
  A.setFromTriplets(entries.begin(), entries.end());
  return A;
}

}  // namespace calmplate::modes
