// SPDX-License-Identifier: MIT
#include "app/gl/shaders.h"

namespace loopmend::app {

const char* const kRibbonVertex = R"(
precision highp float;
precision highp int;
layout(location = 0) in vec3 at;
layout(location = 1) in vec3 along;
layout(location = 2) in vec2 thick;  // radius, arc
layout(location = 3) in uvec4 kind;  // color, material, light on the right side, on the wrong side
layout(location = 4) in vec2 edge;  // the end of a knuckle is the second
uniform mat3 axes;  // cloth to viewer
uniform vec3 centre;
uniform vec2 scale;  // mm to clip space
uniform float depthScale;
uniform float grow;  // of the radius
uniform bool rightSide;
uniform vec3 yarns[11];  // then wood, metal, thread
out vec4 ribbon;  // edge, arc, depth of the middle, openness to the light
out vec4 way;     // of the yarn, as seen; radius
flat out vec4 dye;
void main() {
    vec3 p = axes * (at - centre);
    vec3 t = normalize(axes * along);
    float l = length(t.xy);
    vec2 side = l > 0.03 ? vec2(-t.y, t.x) / l : vec2(1.0, 0.0);
    vec2 out_ = side * edge.x + vec2(side.y, -side.x) * edge.y;
#ifdef KNUCKLE
    if (l > 0.8) out_ = vec2(0.0);
#endif
    gl_Position = vec4((p.xy + out_ * (thick.x * grow)) * scale, -p.z * depthScale, 1.0);
    ribbon = vec4(edge.x, thick.y, p.z, float(rightSide ? kind.z : kind.w) / 255.0);
    way = vec4(t, thick.x);
#ifdef KNUCKLE
    ribbon.y = edge.y;
    way.xy = side;
#endif
    uint color = kind.y == 0u ? kind.x & 7u : 7u + kind.y;
    dye = vec4(yarns[color], float(kind.y));
}
)";

// Software renderers draw every branch of a program, so each look and each degree of detail is a program of
// its own: WOOL or not, with MARKS along the yarn or not, with FIBERS (seen from near) or not. Across the
// ribbon the depth follows a circle, so that crossings look round.
const char* const kRibbonFragment = R"(
precision highp float;
precision highp int;
in vec4 ribbon;
in vec4 way;
flat in vec4 dye;
uniform float depthScale;
uniform float pixels;   // per mm
uniform float hand;     // -1 in a mirrored picture
uniform float alpha;
uniform float nearer;   // pulled toward the viewer, mm
uniform float plyTurn;  // a share of a turn of one ply, per mm along the yarn
uniform float plies;    // how much of them is seen
uniform vec3 light;     // toward it
uniform vec3 paleInk;   // round dark yarn
uniform int mark;
out vec4 colour;

#ifdef KNUCKLE
// A ball where the yarn is seen along its way, a little behind the yarn beside it.
void main() {
    float r2 = ribbon.x * ribbon.x + ribbon.y * ribbon.y;
    if (r2 > 1.0) discard;
    float c = sqrt(1.0 - r2);
    float px = max(way.w * pixels, 0.75);
#ifdef WOOL
    vec2 side = way.xy;
    vec3 n = vec3(side * ribbon.x + vec2(side.y, -side.x) * ribbon.y, c);
    float d = dot(n, light);
    float wrap = clamp(0.5 + 0.5 * d, 0.0, 1.0);
    float open = ribbon.w;
    float amount = (0.30 + 0.10 * n.y) * mix(0.55, 1.0, open) +
                   0.86 * mix(max(d, 0.0), wrap * wrap, 0.45) * mix(0.75, 1.0, open);
    vec3 lit = dye.rgb * dye.rgb * (0.92 * amount) * (0.60 + 0.40 * smoothstep(0.0, 0.55, c));
    colour = vec4(sqrt(lit) * alpha, alpha);
    gl_FragDepth = 0.5 - 0.5 * (ribbon.z + way.w * (c - 0.35) + nearer) * depthScale;
#else
    float soft = 0.75 / px;
    float width = max(0.26, 1.3 / max(px, 1.3));
    vec3 ink = dot(dye.rgb, vec3(0.3, 0.6, 0.1)) > 0.45 ? vec3(0.13, 0.12, 0.16) : paleInk;
    vec3 fill = dye.rgb * mix(0.78, 1.0, smoothstep(0.30, 0.85, ribbon.w));
    float line = smoothstep(1.0 - width - soft, 1.0 - width + soft, sqrt(r2));
    colour = vec4(mix(fill, ink, line) * alpha, alpha);
    // The outline lies behind the fill of the next ball: one outline round all.
    gl_FragDepth = 0.5 - 0.5 * (ribbon.z + way.w * (0.5 * c - 0.35 - 0.7 * line) + nearer) * depthScale;
#endif
}
#else

#ifdef FIBERS
float chance(vec2 p) {
    vec3 q = fract(vec3(p.xyx) * 0.1031);
    q += dot(q, q.yzx + 33.33);
    return fract((q.x + q.y) * q.z);
}
float noise(vec2 p) {
    vec2 i = floor(p);
    vec2 f = fract(p);
    f = f * f * (3.0 - 2.0 * f);
    return mix(mix(chance(i), chance(i + vec2(1.0, 0.0)), f.x),
               mix(chance(i + vec2(0.0, 1.0)), chance(i + vec2(1.0, 1.0)), f.x), f.y);
}
#endif
#ifdef MARKS
float upTo(float x, float edge, float soft) {
    return 1.0 - smoothstep(edge - soft, edge + soft, x);
}
#endif

void main() {
    float u = clamp(ribbon.x, -1.0, 1.0);
    float c = sqrt(1.0 - u * u);
    float radius = max(way.w, 0.02);
    float px = radius * pixels;
    float soft = 0.75 / max(px, 0.75);
    float open = ribbon.w;
    vec3 base = dye.rgb;
    float flatness = dot(way.xy, way.xy);
    vec3 shade;
#ifdef WOOL
    // The normal is u * side + c * front; plies wind round the yarn and tip it.
    float l = sqrt(flatness + 1e-6);
    float inv = 1.0 / l;
    vec2 side = vec2(-way.y, way.x) * inv;
    vec3 front = vec3(-way.xy * (way.z * inv), l);
    float sideLight = dot(side, light.xy);
    float frontLight = dot(front, light);
    float d = u * sideLight + c * frontLight;
    float up = u * side.y + c * front.y;
    float yarn = dye.w < 0.5 ? 1.0 : 0.0;
    float turn = (u * (0.92 + 0.65 * u * u * u * u) * hand) * 0.4774648 + ribbon.y * plyTurn;
    float f = fract(turn) * 2.0 - 1.0;
    float f2 = f * f;
    float seen = plies * yarn;
    float tip = (0.894 * (c * sideLight - u * frontLight) * hand - 0.447 * dot(way.xyz, light)) * f * seen;
    d = (d + 0.55 * tip) / sqrt(1.0 + 0.30 * f2 * seen);
    float groove = 1.0 - 0.42 * f2 * f2 * seen;
    vec3 a = base * base;
#ifdef FIBERS
    float fiber = noise(vec2((turn * 2.1 + f * 0.25) * 7.0, ribbon.y * plyTurn * 2.7));
    a *= mix(1.0, 0.78 + 0.44 * fiber, smoothstep(3.0, 6.0, px) * (0.25 + 0.75 * yarn));
#endif
    float wrap = clamp(0.5 + 0.5 * d, 0.0, 1.0);
    float soak = mix(max(d, 0.0), wrap * wrap, 0.45);
    float rim = 1.0 - c;
    float amount = (0.30 + 0.10 * up) * mix(0.55, 1.0, open) + 0.86 * soak * mix(0.75, 1.0, open) +
                   0.14 * rim * rim * open;
    float gloss = (1.0 - yarn) * max(0.0, d - 0.80);
    vec3 lit = a * (groove * amount) + vec3((dye.w > 1.5 ? 9.0 : 2.0) * gloss * gloss);
    lit *= 0.60 + 0.40 * smoothstep(0.0, 0.55, c);
    shade = sqrt(lit);
    gl_FragDepth = 0.5 - 0.5 * (ribbon.z + radius * c / max(l, 0.35) + nearer) * depthScale;
#else
    // A pale fill, darker where it lies deeper, and the outline.
    vec3 fill = base * mix(0.78, 1.0, smoothstep(0.30, 0.85, open));
    vec3 ink = dot(base, vec3(0.3, 0.6, 0.1)) > 0.45 ? vec3(0.13, 0.12, 0.16) : paleInk;
    float width = max(0.26, 1.3 / max(px, 1.3));
#ifdef MARKS
    if ((mark & 7) != 0) width *= 1.35;
#endif
    shade = mix(fill, ink, smoothstep(1.0 - width - soft, 1.0 - width + soft, abs(u)));
    gl_FragDepth = 0.5 - 0.5 * (ribbon.z + 0.5 * radius * c + nearer) * depthScale;
#endif
#ifdef MARKS
    // Bright with a dark rim, on pale yarn dark with a bright one.
    float s = ribbon.y / radius;
    float v = abs(u);
    float on = 0.0;
    float edge = 0.0;
    if ((mark & 4) != 0) {
        float r = length(vec2((fract(s / 3.2) - 0.5) * 3.2, v * 1.05));
        on = upTo(r, 0.62, soft);
        edge = upTo(r, 0.88, soft);
    } else if ((mark & 2) != 0) {
        float x = abs(fract(s / 4.0) - 0.5) * 4.0;
        on = upTo(v, 0.30, soft) * upTo(x, 1.15, soft);
        edge = upTo(v, 0.52, soft) * upTo(x, 1.35, soft);
    } else if ((mark & 8) != 0) {
        on = upTo(v, 0.20, soft);
        edge = upTo(v, 0.42, soft);
    } else if ((mark & 16) != 0) {
        float x = abs(fract(s / 2.4) - 0.5) * 2.4;
        on = upTo(v, 0.24, soft) * upTo(x, 0.50, soft);
        edge = upTo(v, 0.46, soft) * upTo(x, 0.72, soft);
    }
    bool pale = dot(base, vec3(0.3, 0.6, 0.1)) > 0.62;
    vec3 dark = vec3(0.08, 0.07, 0.10);
    vec3 bright = vec3(1.0, 0.98, 0.90);
    shade = mix(shade, pale ? bright : dark, 0.85 * edge);
    shade = mix(shade, pale ? dark : bright, on);
    if ((mark & 1) != 0) shade = min(shade * 1.22 + 0.03, vec3(1.0));
#endif
    if (alpha < 1.0) {
        // A ghost: pale as glass, with an outline.
        float line = smoothstep(0.74 - soft, 0.74 + soft, abs(u));
        shade = mix(mix(shade, vec3(0.78, 0.93, 1.0), 0.62), vec3(0.05, 0.16, 0.34), line);
    }
    colour = vec4(shade * alpha, alpha);
}
#endif
)";

const char* const kHaloFragment = R"(
precision highp float;
precision highp int;
in vec4 ribbon;
in vec4 way;
flat in vec4 dye;
uniform float depthScale;
uniform vec3 halo;
uniform float nearer;  // than the middle of the yarn, mm
uniform float grow;
uniform float pixels;
out vec4 colour;
void main() {
    float px = max(way.w, 0.02) * grow * pixels;
    float rim = smoothstep(1.0 - 2.2 / max(px, 2.2), 1.0 - 1.2 / max(px, 2.2), abs(ribbon.x));
    gl_FragDepth = 0.5 - 0.5 * (ribbon.z + nearer) * depthScale;
    colour = vec4(mix(halo, halo * 0.35, rim), 1.0);
}
)";

const char* const kWholeVertex = R"(
precision highp float;
out vec2 place;
void main() {
    vec2 p = vec2(float((gl_VertexID << 1) & 2), float(gl_VertexID & 2));
    place = p;
    gl_Position = vec4(p * 2.0 - 1.0, 0.0, 1.0);
}
)";

const char* const kLightFragment = R"(
precision highp float;
precision highp int;
in vec2 place;
uniform highp sampler2D depths;
uniform vec2 radius;      // of the yarn, as a share of the picture
uniform float range;      // depth 0 to 1 in yarn radii
uniform vec3 light;
out vec4 colour;
float height(vec2 p) {
    float d = texture(depths, p).x;
    return d >= 1.0 ? -1e3 : -d * range;
}
void main() {
    float h = height(place);
    if (h < -900.0) {
        colour = vec4(1.0);
        return;
    }
    float turn = fract(dot(floor(gl_FragCoord.xy), vec2(0.7548777, 0.5698403))) * 6.2831853;
    float hidden = 0.0;
    for (int i = 0; i < 8; ++i) {
        float f = (float(i) + 0.5) / 8.0;
        float r = sqrt(f) * 3.6;
        float a = turn + float(i) * 2.399963;
        float e = (height(place + vec2(cos(a), sin(a)) * r * radius) - h - 0.15) / (r + 0.35);
        hidden += clamp(e, 0.0, 1.6) * (1.0 - 0.4 * f);
    }
    float sky = exp(-hidden / 8.0 * 2.4);
    float in_way = 0.0;
    float start = 0.3 + 0.35 * fract(turn * 7.0);
    vec3 way = light / max(0.35, light.z);
    for (int i = 0; i < 6; ++i) {
        float s = start + float(i) * 0.62;
        float over = height(place + way.xy * s * radius) - (h + s + 0.15);
        in_way = max(in_way, over / (0.30 + 0.35 * s));
    }
    float sun = 1.0 - 0.75 * clamp(in_way, 0.0, 1.0);
    colour = vec4(0.32 * sky + 0.68 * sun * mix(0.55, 1.0, sky));
}
)";

const char* const kShadowFragment = R"(
precision highp float;
in vec2 place;
uniform sampler2D picture;
uniform vec2 away;        // from a place on the ground to what shades it
uniform vec2 blur;
out vec4 colour;
void main() {
    float s = 0.0;
    for (int i = 0; i < 20; ++i) {
        float a = float(i) * 2.399963;
        float r = sqrt((float(i) + 0.5) / 20.0);
        s += texture(picture, place + away + vec2(cos(a), sin(a)) * (blur * r)).a * (1.3 - r);
    }
    colour = vec4(s / 12.67);
}
)";

const char* const kFinishFragment = R"(
precision highp float;
precision highp int;
in vec2 place;
uniform sampler2D picture;
uniform sampler2D lights;
uniform sampler2D shadow;
uniform vec3 ground;
uniform float dim;        // how much shadow takes
uniform float lit;        // how much strands take from each other's light
out vec4 colour;
void main() {
    vec4 c = texture(picture, place);
    // Light is in shares of what arrives, the picture in what the eye makes of it.
    vec3 seen = c.rgb * mix(1.0, sqrt(texture(lights, place).x), lit);
    colour = vec4(seen + (1.0 - c.a) * ground * (1.0 - 0.42 * dim * texture(shadow, place).x), 1.0);
}
)";

}  // namespace loopmend::app
