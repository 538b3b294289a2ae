// SPDX-License-Identifier: GPL-3.0-or-later
// The page as the program writes it, from a run of a real small job.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/program.hpp"
#include "cli/small_job.hpp"
#include "page/ring_fit.hpp"

namespace calmplate::cli {
namespace {

using nlohmann::json;

/// The sounds of a page, in its order.
std::vector<testing::Sound> sounds_of(const std::string& html) {
  const std::string mark = "data:audio/wav;base64,";
  std::vector<testing::Sound> out;
  for (std::size_t at = html.find(mark); at != std::string::npos; at = html.find(mark, at + 1)) {
    const std::size_t from = at + mark.size();
    out.push_back(
        testing::read_sound(testing::from_base64(html.substr(from, html.find('"', from) - from))));
  }
  return out;
}

/// Whether another tone of the same knock lies so near, for as fast as both die away, that the two
/// ring as one: closer than a tenth of their widths at half power.
bool rings_alone(const json& tones, const json& tone) {
  constexpr double kTwoPi = 6.283185307179586;
  for (const json& other : tones) {
    if (&other == &tone) continue;
    const double apart = std::abs(other["freq_Hz"].get<double>() - tone["freq_Hz"].get<double>());
    const double widths =
        2.0 * (other["decay_per_s"].get<double>() + tone["decay_per_s"].get<double>()) / kTwoPi;
    if (apart < 0.1 * widths) return false;
  }
  return true;
}

/// What a tone brings in all, as the square of its pressure over time.
double energy(const json& tone) {
  return std::pow(tone["amplitude_Pa"].get<double>(), 2) / tone["decay_per_s"].get<double>();
}

void run_small_job(const Folder& folder, const std::vector<std::string>& further) {
  write_small_job(folder);
  std::vector<std::string> arguments{"run", "job.toml", "-o", "out", "--no-pictures", "--quiet"};
  arguments.insert(arguments.end(), further.begin(), further.end());
  const Outcome run = run_program(folder, arguments);
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
}

}  // namespace

// Source: [derived] the tones of results.json are found again in the sounds of the page, pitch
// within 1 % and ring time within 10 %: those that bring at least a millionth of what the
// loudest does and that ring alone. What is weaker, or rings as one with another, no fit can tell.
TEST_CASE("the page's sounds ring as the modes of the job do", "[cli][derived]") {
  const Folder folder;
  run_small_job(folder, {});
  const json results = json::parse(folder.read("out/results.json"));
  const auto sounds = sounds_of(folder.read("out/customer.html"));
  REQUIRE(sounds.size() == results["layouts"].size());
  std::size_t all = 0;
  for (std::size_t k = 0; k < sounds.size(); ++k) {
    const json& tones = results["layouts"][k]["tap"];
    double loudest = 0.0, slowest = 1e9;
    for (const json& tone : tones) {
      loudest = std::max(loudest, energy(tone));
      slowest = std::min(slowest, tone["decay_per_s"].get<double>());
    }
    const double length_s = std::min(1.4, 0.01 + 5.0 / slowest);
    const auto rings = testing::rings_of(
        sounds[k], 0.01, length_s, 1.1 * results["tap"]["up_to_Hz"].get<double>());
    std::size_t found = 0;
    for (const json& tone : tones) {
      if (energy(tone) < 1e-6 * loudest || !rings_alone(tones, tone)) continue;
      const double freq = tone["freq_Hz"], decay = tone["decay_per_s"];
      const testing::Ring ring = testing::nearest_ring(rings, freq);
      CAPTURE(k, freq, decay, ring.freq_hz, ring.decay_per_s);
      CHECK(ring.freq_hz == Approx(freq).epsilon(0.01));
      CHECK(ring.decay_per_s == Approx(decay).epsilon(0.10));
      ++found;
    }
    CHECK(found >= 1);
    all += found;
  }
  CHECK(all >= 5);
}

TEST_CASE("report writes either page anew, by default into the folder", "[cli]") {
  const Folder folder;
  run_small_job(folder, {});
  const std::string fitter = folder.read("out/report.html");
  const std::string customer = folder.read("out/customer.html");
  CHECK(fitter != customer);
  folder.write("out/report.html", "old");
  const Outcome again = run_program(folder, {"report", "out"});
  CHECK(again.status == 0);
  CHECK(again.err.empty());
  CHECK(again.out == "out/report.html\n");
  CHECK(folder.read("out/report.html") == fitter);
  const Outcome other =
      run_program(folder, {"report", "out", "--for", "customer", "-o", "anna.html", "--quiet"});
  CHECK(other.status == 0);
  CHECK(other.out.empty());
  CHECK(folder.read("anna.html") == customer);
}

TEST_CASE("with --no-report there are no pages", "[cli]") {
  const Folder folder;
  run_small_job(folder, {"--no-report"});
  CHECK_FALSE(std::filesystem::exists(folder / "out/report.html"));
  CHECK_FALSE(std::filesystem::exists(folder / "out/customer.html"));
}

TEST_CASE("the job's [report] and its logo reach the page", "[cli]") {
  const Folder folder;
  write_small_job(folder);
  const std::string logo("\x89PNG\r\n\x1a\n and so on", 18);
  folder.write("mark.png", logo);
  folder.write("job.toml",
               small_job() +
                   "\n[report]\nfitter = \"Quiet <Doors>\"\nlogo = \"mark.png\"\nproposal = "
                   "\"patch\"\n");
  const Outcome run =
      run_program(folder, {"run", "job.toml", "-o", "out", "--no-pictures", "--quiet"});
  CAPTURE(run.err);
  REQUIRE(run.status == 0);
  CHECK(folder.read("out/logo.png") == logo);
  const std::string html = folder.read("out/customer.html");
  CHECK_THAT(html, Catch::Contains("Quiet &lt;Doors&gt;"));
  CHECK_THAT(html, Catch::Contains("With “patch” the door skin shakes"));
  const std::size_t at = html.find("data:image/png;base64,") + 22;
  CHECK(testing::from_base64(html.substr(at, html.find('"', at) - at)) == logo);
}

TEST_CASE("report refuses what it cannot use in one line, and writes nothing", "[cli]") {
  const Folder folder;
  std::filesystem::create_directories(folder / "damaged");
  std::filesystem::create_directories(folder / "empty");
  folder.write("damaged/results.json", "{\"schema\": \"calmplate-results\", ");
  folder.write("file", "");
  const auto before = folder.content();
  const auto refusal = [&](const std::vector<std::string>& arguments) {
    const Outcome out = run_program(folder, arguments);
    CHECK(out.status == 2);
    CHECK(out.out.empty());
    CHECK(count_lines(out.err) == 1);
    return out.err;
  };
  CHECK(refusal({"report", "nowhere"}) ==
        "calmplate: nowhere: is not a folder; allowed: a folder that calmplate run wrote\n");
  CHECK(refusal({"report", "file"}) ==
        "calmplate: file: is not a folder; allowed: a folder that calmplate run wrote\n");
  CHECK(refusal({"report", "empty"}) ==
        "calmplate: empty/results.json: cannot be read; allowed: results.json in a folder of "
        "calmplate run\n");
  CHECK(refusal({"report", "damaged"}) ==
        "calmplate: damaged/results.json: is not valid JSON; allowed: results.json in a folder of "
        "calmplate run\n");
  CHECK(refusal({"report", "damaged", "-o", "nowhere/x.html"}) ==
        "calmplate: nowhere: is not a folder; allowed: a folder that exists\n");
  CHECK(refusal({"report", "damaged", "-o", "empty"}) ==
        "calmplate: empty: is a folder; allowed: a file to write\n");
  CHECK_THAT(refusal({"report", "damaged", "--for", "nobody"}), Catch::Contains("--for"));
  CHECK_THAT(refusal({"report"}), Catch::Contains("FOLDER"));
  CHECK(folder.content() == before);
}

}  // namespace calmplate::cli
