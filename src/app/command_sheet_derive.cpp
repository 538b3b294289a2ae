// SPDX-License-Identifier: GPL-3.0-or-later
#include <iostream>
#include <memory>
#include <string>

#include "app/commands.hpp"
#include "job/read_bar_test.hpp"
#include "report/derive_text.hpp"
#include "sheet/derive.hpp"

namespace calmplate::app {

void add_sheet_derive(CLI::App& sheet) {
  struct Options {
    std::string file;
    bool json = false, quiet = false;
  };
  auto options = std::make_shared<Options>();
  CLI::App* command =
      sheet.add_subcommand("derive", "A sheet's modulus and loss factor from bar-test readings");
  command->add_option("FILE", options->file, "bar-test file (TOML)")->required();
  command->add_flag("--json", options->json, "print JSON for machines, SI units");
  command->add_flag("--quiet", options->quiet, "print nothing if all is well");
  command->footer("Example: calmplate sheet derive docs/examples/bar_test_butyl.toml");
  command->callback([options] {
    const job::BarTestInput input = job::read_bar_test(options->file);
    const sheet::Derivation derivation = sheet::derive(input.test, input.rows, input.options);
    if (options->json)
      std::cout << report::derive_json(input, derivation);
    else if (!options->quiet)
      std::cout << report::derive_text(input, derivation);
  });
}

}  // namespace calmplate::app
