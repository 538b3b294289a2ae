// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <string>
#include <vector>

/// The keys of a job file, one list a section. The reader refuses what is not listed here, and
/// docs/job-file.md must describe what is.
namespace calmplate::job {

/// One kind of section and the keys it may hold.
struct Section {
  std::string title;              ///< as written in the file: "[panel]", "[[sheet]]"
  std::vector<std::string> keys;  ///< sections inside it included ("edge" in [panel])
};

namespace keys {
extern const Section kFile;  ///< the top level: the sections themselves
extern const Section kJob;
extern const Section kPanel;
extern const Section kEdge;
extern const Section kCrown;
extern const Section kHole;
extern const Section kSwage;
extern const Section kRecess;
extern const Section kMaterial;
extern const Section kStiffener;
extern const Section kSpring;
extern const Section kMass;
extern const Section kSheet;
extern const Section kModulus;
extern const Section kKeepOut;
extern const Section kLayout;
extern const Section kPiece;
extern const Section kPlace;
extern const Section kDrive;
extern const Section kWoofer;
extern const Section kAmplifier;
extern const Section kFilter;
extern const Section kCavity;
extern const Section kBand;
extern const Section kListenAt;
extern const Section kCutting;
extern const Section kOffcut;
extern const Section kBenefitMap;
extern const Section kSheetComparison;
extern const Section kUnknowns;
extern const Section kConditions;
extern const Section kReport;
}  // namespace keys

/// Every section above but the top level, in the order of the document.
std::vector<const Section*> all_sections();

}  // namespace calmplate::job
