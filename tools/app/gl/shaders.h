// SPDX-License-Identifier: MIT
#pragma once

/// Programs for the graphics card, without their version line: right for OpenGL 3.3 and OpenGL ES 3.0.
namespace loopmend::app {

/// Turns a ribbon toward the viewer. Defined before it or not: KNUCKLE.
extern const char* const kRibbonVertex;
/// Yarn and tools. Defined before it or not: WOOL (else a drawing), MARKS, FIBERS, KNUCKLE.
extern const char* const kRibbonFragment;
/// One colour all over, for halos.
extern const char* const kHaloFragment;
/// A triangle that covers all of the picture.
extern const char* const kWholeVertex;
/// What strands take from each other's light, from the depth of the picture.
extern const char* const kLightFragment;
/// What the picture takes from the light of the ground below it.
extern const char* const kShadowFragment;
/// Picture times light, and the ground where there is no yarn.
extern const char* const kFinishFragment;

}  // namespace loopmend::app
