// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <Eigen/SparseCore>
#include <filesystem>

namespace calmplate::modes {

/// Writes the lower triangle of a symmetric matrix as a MatrixMarket text file ("matrix coordinate
/// real symmetric", rows and columns counted from 1, 17 digits), so that another solver can be
/// given the same numbers to the last bit. The file appears whole or not at all.
/// @param A  [n x n] symmetric; only its lower triangle is read
/// @throws std::invalid_argument  if A is not square
/// @throws std::runtime_error     if the file cannot be written
///
/// Source: [memory] the MatrixMarket exchange format; what is written is read back in the test.
void write_matrix_market(const std::filesystem::path& path, const Eigen::SparseMatrix<double>& A);

/// Reads such a file into both triangles, [n x n]. Comment lines are skipped.
/// @throws std::runtime_error naming the file if it is missing, of another kind or cut short
Eigen::SparseMatrix<double> read_matrix_market(const std::filesystem::path& path);

}  // namespace calmplate::modes
