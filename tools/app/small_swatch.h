// SPDX-License-Identifier: MIT
#pragma once

#include "app/cloth_pane.h"
#include "app/style.h"
#include "fault/grounds.h"
#include "tutor/progress.h"

struct ImDrawList;

namespace loopmend::app {

/// A swatch no larger than a thumb: how far it is knitted says how far its lesson has come, in shape and not
/// in color alone. Cast on: one row of loops on a needle. Unfinished: half of it, the needle still in.
/// Finished: whole and bound off. Pinned: finished, with a pin stuck through it.
void drawSmallSwatch(ImDrawList& draw, const Box& box, SwatchShows shows, StockGround ground, Ink wool,
                     const Palette& colours);

}  // namespace loopmend::app
