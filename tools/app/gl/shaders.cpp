// SPDX-License-Identifier: MIT
#include "app/gl/shaders.h"

namespace loopmend::app {

const char* const kRibbonVertex = R"(
precision highp float;
precision highp int;
precision highp usampler2D;
layout(location = 0) in vec3 at;
layout(location = 1) in vec3 along;
layout(location = 2) in vec2 thick;     // radius, arc
layout(location = 3) in int entry;
layout(location = 4) in uvec4 kind;     // color, material, light on the right side, on the wrong side
layout(location = 5) in float edge;
uniform mat3 axes;        // cloth to viewer
uniform vec3 centre;
uniform vec2 scale;       // mm to clip space
uniform float depthScale;
uniform vec2 shift;       // mm, as seen
uniform float grow;       // of the radius
uniform float hand;
uniform bool rightSide;
uniform usampler2D marks;
out vec2 across;          // edge, arc
out vec3 way;             // of the yarn, as seen
out vec2 body;            // radius, depth of the middle
out float open;           // to the light
flat out uvec3 what;      // color, material, marks
void main() {
    vec3 p = axes * (at - centre);
    vec3 t = normalize(axes * along);
    float l = length(t.xy);
    vec2 side = l > 0.03 ? vec2(-t.y, t.x) / l : vec2(1.0, 0.0);
    float r = thick.x * grow;
    gl_Position = vec4((p.xy + shift + side * (edge * r)) * scale, -p.z * depthScale, 1.0);
    across = vec2(edge * hand, thick.y);
    way = t;
    body = vec2(thick.x, p.z);
    open = float(rightSide ? kind.z : kind.w) / 255.0;
    uint m = 0u;
    if (entry >= 0) m = texelFetch(marks, ivec2(entry & 511, entry >> 9), 0).x;
    what = uvec3(kind.x, kind.y, m);
}
)";

// How a ribbon is made to look round is the same in both looks: across its width the depth follows a circle.
const char* const kRibbonFragment = R"(
precision highp float;
precision highp int;
in vec2 across;
in vec3 way;
in vec2 body;
in float open;
flat in uvec3 what;
uniform float depthScale;
uniform float pixels;     // per mm
uniform float hand;
uniform bool drawing;
uniform bool dark;
uniform float alpha;
uniform float plyTurn;    // radians per mm along the yarn
uniform vec3 light;       // toward it
uniform vec3 yarns[8];
out vec4 colour;

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
// Of a line along the middle of the yarn: how far a fragment is on it.
float band(float u, float halfWidth, float soft) {
    return 1.0 - smoothstep(halfWidth - soft, halfWidth + soft, abs(u));
}

void main() {
    float u = clamp(across.x, -1.0, 1.0);
    float c = sqrt(1.0 - u * u);
    vec3 t = normalize(way);
    float l = max(length(t.xy), 0.35);
    float radius = max(body.x, 0.02);
    float px = radius * pixels;
    float soft = 0.75 / max(px, 0.75);
    uint m = what.z;
    bool undone = (m & 4u) != 0u;
    vec3 base = what.y == 0u ? yarns[what.x & 7u]
              : what.y == 1u ? vec3(0.84, 0.70, 0.47)
              : what.y == 2u ? vec3(0.70, 0.72, 0.74)
                             : vec3(0.95, 0.82, 0.25);
    vec3 shade;
    if (drawing) {
        // A pale fill a little darker where it lies deeper, and the outline.
        vec3 fill = base * mix(0.80, 1.0, smoothstep(0.30, 0.85, open));
        float bright = dot(base, vec3(0.3, 0.6, 0.1));
        vec3 ink = bright > 0.45 ? vec3(0.13, 0.12, 0.16) : (dark ? vec3(0.90, 0.90, 0.88) : vec3(0.02));
        float width = max(0.26, 1.3 / max(px, 1.3));
        if ((m & 7u) != 0u) width *= 1.35;
        float line = smoothstep(1.0 - width - soft, 1.0 - width + soft, abs(u));
        shade = mix(fill, ink, line);
        gl_FragDepth = 0.5 - 0.5 * (body.y + 0.5 * radius * c) * depthScale;
    } else {
        vec3 side = normalize(vec3(-t.y, t.x, 0.0) + vec3(1e-4, 0.0, 0.0)) * hand;
        vec3 front = normalize(vec3(0.0, 0.0, 1.0) - t * t.z);
        vec3 n = side * u + front * c;
        float groove = 1.0;
        vec3 a = base * base;
        if (what.y == 0u) {
            // Three plies wind round each other; fibers lie along them.
            float turn = asin(u) + across.y * plyTurn;
            float f = fract(turn * 0.4774648) * 2.0 - 1.0;
            float seen = smoothstep(1.4, 3.4, px);
            vec3 over = normalize(cross(t, n) * hand - t * 0.5);
            n = normalize(n + over * (0.62 * f * seen));
            float f2 = f * f;
            groove = 1.0 - 0.50 * f2 * f2 * seen;
            if (px > 3.0) {
                float fiber = noise(vec2((turn + f * 0.25) * 7.0, across.y * plyTurn * 1.3));
                a *= mix(1.0, 0.78 + 0.44 * fiber, smoothstep(3.0, 6.0, px));
            }
        } else if (what.y == 1u) {
            a *= 0.90 + 0.14 * noise(vec2(across.y * 0.4, asin(u) * 5.0));
        }
        float d = dot(n, light);
        float wrap = clamp(0.5 + 0.5 * d, 0.0, 1.0);
        float soak = mix(max(d, 0.0), wrap * wrap, 0.45);
        float sky = 0.30 + 0.10 * n.y;
        float o = mix(0.55, 1.0, open);
        vec3 lit = a * groove * (sky * o + 0.86 * soak * mix(0.75, 1.0, open));
        if (what.y != 0u) {
            vec3 h = normalize(light + vec3(0.0, 0.0, 1.0));
            lit += vec3(what.y == 2u ? 0.5 : 0.10) * pow(max(dot(n, h), 0.0), what.y == 2u ? 40.0 : 18.0);
        } else {
            lit += a * (0.16 * o * (1.0 - c) * (1.0 - c));
        }
        lit *= mix(0.62, 1.0, smoothstep(0.0, 0.55, c));
        shade = sqrt(lit);
        gl_FragDepth = 0.5 - 0.5 * (body.y + radius * c / l) * depthScale;
    }
    if (m != 0u) {
        // Bright with a dark rim: seen on any yarn.
        float s = across.y / radius;
        float on = 0.0;
        float rim = 0.0;
        if (undone) {
            float x = (fract(s / 3.2) - 0.5) * 3.2;
            float r = length(vec2(x, u * 1.05));
            on = 1.0 - smoothstep(0.62 - soft, 0.62 + soft, r);
            rim = 1.0 - smoothstep(0.88 - soft, 0.88 + soft, r);
        } else if ((m & 2u) != 0u) {
            float x = abs(fract(s / 4.0) - 0.5) * 4.0;
            float cut = 1.0 - smoothstep(1.15 - soft, 1.15 + soft, x);
            on = band(u, 0.30, soft) * cut;
            rim = band(u, 0.52, soft) * (1.0 - smoothstep(1.35 - soft, 1.35 + soft, x));
        } else if ((m & 8u) != 0u) {
            on = band(u, 0.20, soft);
            rim = band(u, 0.42, soft);
        } else if ((m & 16u) != 0u) {
            float x = abs(fract(s / 2.4) - 0.5) * 2.4;
            float cut = 1.0 - smoothstep(0.5 - soft, 0.5 + soft, x);
            on = band(u, 0.24, soft) * cut;
            rim = band(u, 0.46, soft) * (1.0 - smoothstep(0.72 - soft, 0.72 + soft, x));
        }
        shade = mix(shade, vec3(0.08, 0.07, 0.10), 0.85 * rim);
        shade = mix(shade, vec3(1.0, 0.98, 0.90), on);
        if ((m & 1u) != 0u) shade = mix(shade, vec3(1.0), 0.22);
    }
    if (alpha < 1.0) shade = mix(shade, vec3(1.0), 0.25);
    colour = vec4(shade * alpha, alpha);
}
)";

const char* const kHaloFragment = R"(
precision highp float;
precision highp int;
in vec2 across;
in vec3 way;
in vec2 body;
in float open;
flat in uvec3 what;
uniform float depthScale;
uniform vec3 halo;
uniform float grow;
uniform float pixels;
out vec4 colour;
void main() {
    float u = abs(across.x);
    float px = max(body.x, 0.02) * grow * pixels;
    float rim = smoothstep(1.0 - 2.2 / max(px, 2.2), 1.0 - 1.2 / max(px, 2.2), u);
    // Behind the yarn that it stands round, in front of what that lies on.
    gl_FragDepth = 0.5 - 0.5 * (body.y - 0.55 * body.x) * depthScale;
    colour = vec4(mix(halo, halo * 0.35, rim), 1.0);
}
)";

const char* const kShadowFragment = R"(
precision highp float;
precision highp int;
in vec2 across;
in vec3 way;
in vec2 body;
in float open;
flat in uvec3 what;
out vec4 colour;
void main() {
    float c = 1.0 - abs(across.x);
    colour = vec4(0.62 * smoothstep(0.0, 0.75, c));
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

const char* const kFinishFragment = R"(
precision highp float;
precision highp int;
in vec2 place;
uniform sampler2D picture;
uniform sampler2D lights;
uniform sampler2D shadow;
uniform vec2 blur;        // one step of the shadow's picture
uniform vec3 ground;
uniform bool shadows;
uniform bool lit;
out vec4 colour;
void main() {
    vec4 c = texture(picture, place);
    float l = lit ? texture(lights, place).x : 1.0;
    // Light is in shares of what arrives, the picture in what the eye makes of it.
    vec3 seen = c.rgb * sqrt(l);
    float s = 0.0;
    if (shadows && c.a < 0.999) {
        s = 0.28 * texture(shadow, place).x;
        for (int i = 0; i < 6; ++i) {
            float a = float(i) * 1.0471976;
            s += 0.12 * texture(shadow, place + vec2(cos(a), sin(a)) * blur).x;
        }
    }
    colour = vec4(seen + (1.0 - c.a) * ground * (1.0 - 0.75 * s), 1.0);
}
)";

}  // namespace loopmend::app
