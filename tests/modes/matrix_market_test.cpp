// SPDX-License-Identifier: GPL-3.0-or-later
#include "modes/matrix_market.hpp"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "modes/model_matrices.hpp"

using namespace calmplate;
using test::Sparse;

namespace {

struct Scratch {
  std::filesystem::path path = std::filesystem::temp_directory_path() /
                               ("calmplate_matrix_market_" + std::to_string(getpid()) + ".mtx");
  ~Scratch() { std::filesystem::remove(path); }
  void write(const char* text) const { std::ofstream(path) << text; }
};

}  // namespace

TEST_CASE("a matrix comes back from its file to the last bit", "[modes]") {
  const Scratch file;
  Sparse A = test::membrane(test::chain(6, 1.0 / 3.0, true));
  A.coeffRef(0, 0) = 1.2345678901234567e-300;
  modes::write_matrix_market(file.path, A);
  const Sparse B = modes::read_matrix_market(file.path);
  CHECK(B.nonZeros() == A.nonZeros());
  CHECK(Eigen::MatrixXd(A - B).cwiseAbs().maxCoeff() == 0.0);
}

TEST_CASE("the file holds the lower triangle, counted from 1", "[modes]") {
  const Scratch file;
  modes::write_matrix_market(file.path, test::chain(2, 0.5, true));
  std::ifstream in(file.path);
  const std::string text((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  CHECK(text == "%%MatrixMarket matrix coordinate real symmetric\n2 2 3\n1 1 1\n2 1 -0.5\n2 2 1\n");
}

TEST_CASE("a file that is cut short, of another kind or missing is refused", "[modes]") {
  const Scratch file;
  const std::string head = "%%MatrixMarket matrix coordinate real symmetric\n";
  const std::string text = GENERATE_COPY(std::string("%%MatrixMarket matrix array real general\n"),
                                         head,
                                         head + "2 3 1\n1 1 1\n",
                                         head + "2 2 2\n1 1 1\n",
                                         head + "2 2 1\n3 1 1\n");
  CAPTURE(text);
  file.write(text.c_str());
  CHECK_THROWS_AS(modes::read_matrix_market(file.path), std::runtime_error);
  CHECK_THROWS_AS(modes::read_matrix_market(file.path.string() + ".none"), std::runtime_error);
}

TEST_CASE("comment lines are skipped and only square matrices are written", "[modes]") {
  const Scratch file;
  file.write("%%MatrixMarket matrix coordinate real symmetric\n% invented\n2 2 1\n2 1 4\n");
  const Sparse A = modes::read_matrix_market(file.path);
  CHECK(A.coeff(0, 1) == 4.0);
  CHECK(A.coeff(1, 0) == 4.0);
  CHECK_THROWS_AS(modes::write_matrix_market(file.path, Sparse(2, 3)), std::invalid_argument);
}
