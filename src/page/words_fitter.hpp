// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include "page/words.hpp"

/// The words that stand on the fitter's page only; see words.hpp.
namespace calmplate::page::words {

constexpr Text kContents = "On this page";
constexpr Text kThirds = "Reduction by one-third octaves";
constexpr Text kThirdsReductionCaption = "dB less than bare in each one-third octave";
constexpr Text kPoints = "At the points of the job";
constexpr Text kPointsCaption = "dB less than bare at each point";
constexpr Text kPoint = "Point";
constexpr Text kModes = "Modes";
constexpr Text kModesNote =
    "The skin's own tones with free air on its faces. Ring time: until 60 dB less is left.";
constexpr Text kModesOf = "Modes, {name} ({count})";
constexpr Text kModeColumn = "mode";
constexpr Text kHzColumn = "Hz";
constexpr Text kLossColumn = "loss factor";
constexpr Text kRingColumn = "ring time, s";
constexpr Text kPieces = "Pieces to cut and lay";
constexpr Text kPiecesOf = "Pieces, {name}";
constexpr Text kPieceColumn = "piece";
constexpr Text kSheetColumn = "sheet";
constexpr Text kFaceColumn = "face";
constexpr Text kSizeColumn = "size, mm";
constexpr Text kSize = "{width} × {height}";
constexpr Text kByOutline = "by its outline";
constexpr Text kInner = "inside";
constexpr Text kOuter = "outside";
constexpr Text kPiecesNote =
    "Where each piece lies, with measures from the corner of the skin, is in the layout pictures; "
    "calmplate cut makes cutting plans and templates.";
constexpr Text kShelf = "Sheets";
constexpr Text kShelfCaption = "The sheets of the job";
constexpr Text kKindColumn = "kind";
constexpr Text kAreaMassColumn = "kg/m²";
constexpr Text kStockColumn = "stock, mm";
constexpr Text kPriceColumn = "{currency} a sheet";
constexpr Text kWoofer = "Woofer and skin";
constexpr Text kWooferTravel = "Largest travel of the cone one way: {travel} mm, at {at} Hz.";
constexpr Text kWooferLimit = "The woofer's limit is {xmax} mm.";
constexpr Text kSoundCaption =
    "Skin against woofer, dB by which the skin's sound power lies under it";
constexpr Text kRattles = "What rattles";
constexpr Text kRattlesCaption =
    "Margin to rattling in a slow sweep and in pink noise; below 0 it rattles";
constexpr Text kLimitColumn = "limit, m/s²";
constexpr Text kPeakColumn = "peak, m/s²";
constexpr Text kAtColumn = "at, Hz";
constexpr Text kSweepColumn = "sweep, dB";
constexpr Text kNoiseColumn = "noise, dB";
constexpr Text kAssumed = "What is assumed";
constexpr Text kAssumedCaption = "The door as it was calculated";
constexpr Text kWhat = "What";
constexpr Text kValue = "Value";
constexpr Text kSkin = "Skin";
constexpr Text kSkinValue = "{material}, {thickness} mm, {area} m², {mass} kg bare";
constexpr Text kSkinLoss = "Loss factor of the bare skin";
constexpr Text kHeld = "Rim: {name}";
constexpr Text kHeldValue = "{hold}, {length} mm";
constexpr Text kKeepOuts = "Kept free";
constexpr Text kDrive = "What shakes it";
constexpr Text kBandRow = "Range that counts";
constexpr Text kBandValue = "{low} to {high} Hz";
constexpr Text kAtTemperature = "Temperature";
constexpr Text kTemperatureValue = "{temperature} °C";
constexpr Text kElement = "Mean side of an element";
constexpr Text kElementValue = "{size} mm";
constexpr Text kUnknowns = "What is not known";
constexpr Text kUnknownsVaried = "Varied together in {samples} draws: {ranges}.";
constexpr Text kUnknownsCaption = "Lowest and highest of all draws";
constexpr Text kFirstColumn = "first mode, Hz";
constexpr Text kFirstLossColumn = "its loss factor";
constexpr Text kFromTo = "{low} to {high}";
constexpr Text kConvergence =
    "Finer elements would change the frequencies by at most {hz} % and the reductions by at most "
    "{db} dB.";
constexpr Text kNoUnknowns =
    "The job has no [unknowns]: how far the figures move with what is not known well was not "
    "worked "
    "out.";
constexpr Text kCautions = "Take care";
constexpr Text kNotes = "Notes";
constexpr Text kCutting = "Stock to buy";
constexpr Text kCuttingCaption = "Stock to buy for each choice by itself, cut as planned";
constexpr Text kBuyColumn = "to buy";
constexpr Text kWasteColumn = "waste, %";
constexpr Text kMinutesColumn = "minutes";
constexpr Text kRoll = "{length} mm of roll";
constexpr Text kCuttingNote =
    "Offcuts on the shelf are used first; waste is what cannot be kept. Minutes to clean, cut and "
    "lay, by a rule of thumb.";

}  // namespace calmplate::page::words
