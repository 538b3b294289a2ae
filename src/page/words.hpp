// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

/// Every word of the page, for whoever translates it. {name} stands for a figure or a name and must
/// stay; fill() refuses a text with a name that nobody fills. The answer, notes, cautions and
/// sentences inside results.json are worded where that file is written.
namespace calmplate::page::words {

using Text = const char*;

constexpr Text kLanguage = "en";  ///< BCP 47 tag of all this
constexpr Text kBare = "bare skin";
constexpr Text kNoFigure = "–";

// Head
constexpr Text kTitle = "{car} – door skin and damping sheet";
constexpr Text kFor = "For {customer}";
constexpr Text kLogoAlt = "Logo of {fitter}";
constexpr Text kSomeFitter = "the fitter";
constexpr Text kDefaultQuestion =
    "How much calmer does damping sheet make the door skin, and what does it take?";
constexpr Text kSkip = "Skip to the answer";

// Answer, for the customer
constexpr Text kAnswer = "The answer";
constexpr Text kLess =
    "With “{name}” the door skin shakes {db} dB less {where}: it moves {percent} % less.";
constexpr Text kHardly = "With “{name}” the door skin shakes hardly less {where}: {db} dB.";
constexpr Text kMore = "With “{name}” the door skin shakes {db} dB more {where}.";
constexpr Text kWhereWoofer = "where the woofer plays ({low} to {high} Hz)";
constexpr Text kWhereBand = "from {low} to {high} Hz";
constexpr Text kTakes = "It takes {kg} kg of damping sheet on {share} % of the skin.";
constexpr Text kTakesMoney =
    "It takes {kg} kg of damping sheet on {share} % of the skin, about {cost} {currency} of "
    "material.";
constexpr Text kTenDecibel = "10 dB less is heard as about half as loud.";
constexpr Text kOnlyBare =
    "Only the bare skin was looked at; no way of laying sheet was asked for.";

// Options
constexpr Text kOptions = "The choices side by side";
constexpr Text kOptionsCaption = "Ways of laying sheet; the one put forward is marked";
constexpr Text kOption = "Choice";
constexpr Text kDecibelLess = "dB less";
constexpr Text kOfSkin = "% of skin";
constexpr Text kMassColumn = "kg";
constexpr Text kSheetsColumn = "stock sheets";
constexpr Text kAreaColumn = "m² of sheet";
constexpr Text kPutForward = "{name} ◀";
constexpr Text kOptionsNote =
    "Sheets and money are by area, without offcuts. dB less: against the bare skin, {where}.";
constexpr Text kMoreOptions = "{count} more are on the fitter's page.";

// Maps
constexpr Text kMaps = "Before and after";
constexpr Text kBefore = "Before: bare skin";
constexpr Text kAfter = "After: {name}";
constexpr Text kMapAlt =
    "Map of the door skin seen from outside, {name}: pale where it moves most, dark where it is "
    "calm. Level over the whole skin {level} dB.";
constexpr Text kMapsNote =
    "How hard each place of the skin moves, seen from outside: pale moves most, dark is calm. All "
    "maps have one scale, so that they compare; lines are the edges of the sheet.";

// Charts
constexpr Text kAsTable = "The figures of this chart";
constexpr Text kResponse = "Shaking over pitch";
constexpr Text kResponseTitle = "How hard the door skin shakes at each pitch";
constexpr Text kResponseDescription =
    "Curves of level in dB over frequency in Hz from {low} to {high} Hz for {names}. Lower is "
    "calmer. The bare skin's highest peak is {peak} dB at {at} Hz.";
constexpr Text kResponseNote = "Lower is calmer. Shaded: {band}.";
constexpr Text kBandWoofer = "where the woofer plays, {low} to {high} Hz";
constexpr Text kBandCounts = "the range that counts, {low} to {high} Hz";
constexpr Text kBandShort = "woofer plays";
constexpr Text kBandCountsShort = "counts";
constexpr Text kFrequencyAxis = "Frequency, Hz";
constexpr Text kShakingAxis = "Shaking, dB";
constexpr Text kDecibel = "dB";
constexpr Text kThirdsCaption = "Shaking around each frequency, {unit}";
constexpr Text kAround = "around, Hz";
constexpr Text kCoverage = "How much is enough";
constexpr Text kCoverageTitle = "What more and more sheet gives";
constexpr Text kCoverageDescription =
    "Curve of dB less over the covered share of the skin, {from} to {to} %. {sentence}";
constexpr Text kCoverageAxis = "Covered share of the skin, %";
constexpr Text kReductionAxis = "dB less than bare";
constexpr Text kKnee = "knee";
constexpr Text kCoverageCaption = "Pieces laid one after the other, the best first";
constexpr Text kPiecesColumn = "pieces";
constexpr Text kTemperature = "Warm and cold";
constexpr Text kTemperatureTitle = "What the sheet gives when the door is cold or hot";
constexpr Text kTemperatureDescription =
    "Curves of dB less than bare over temperature from {low} to {high} °C for {names}.";
constexpr Text kTemperatureAxis = "Temperature, °C";
constexpr Text kTemperatureCaption = "dB less than bare at each temperature";
constexpr Text kTemperatureNote = "All other figures of this page hold at {temperature} °C.";
constexpr Text kComparisonTitle = "The sheets side by side over temperature";

// Sounds
constexpr Text kSounds = "How a knock sounds";
constexpr Text kSoundsNote =
    "A knock on the skin, as heard {distance} m away, calculated. All sounds have one gain, so "
    "that "
    "loud and soft compare: set the volume once. The small loudspeaker of a phone or a laptop does "
    "not play the lowest tones; listen with headphones or a large loudspeaker.";
constexpr Text kSoundsPrinted =
    "How a knock sounds before and after can be heard in the page itself.";
constexpr Text kSoundLabel = "A knock: {name}";

// How sure, for the customer
constexpr Text kSure = "How sure that is";
constexpr Text kSureCalculated =
    "All figures are calculated for this door as it was described or measured out, at "
    "{temperature} °C; the finished door was not measured.";
constexpr Text kSureRange =
    "With what is not known exactly, the gain of “{name}” lies between {low} and {high} dB.";
constexpr Text kSureSkin =
    "They are about the skin of the door alone: rattling trim and the rest of the car come on top.";
constexpr Text kGoodToKnow = "Good to know";
constexpr Text kGoodMass = "The sheet makes the door {kg} kg heavier.";
constexpr Text kGoodWater = "Drain holes and seams at the bottom of the door stay open.";
constexpr Text kGoodSafety =
    "Airbags, sensors and belts are left alone; the vehicle maker's instructions come first.";
constexpr Text kFoot = "Calculated with calmplate {version} from {file}.";

}  // namespace calmplate::page::words
