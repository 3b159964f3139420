#pragma once

/// What counts as the same place, what as nothing, and by how much a tool is moved where faces of a design
/// lie exactly on each other. (How far triangles stand off a surface is `BuildOptions`; what a workshop can
/// hold is trade/tolerance.hpp.)
///
/// A ring is some tens of mm large, so a double tells places 4e-15 mm apart. From there up, with room between
/// the steps, so that what one step leaves is never taken for something by the next:
///
///     1e-14 mm  rounding of one operation
///     1e-9      the same point
///     1e-8      what rounding can do to a crossing of curves that meet at a narrow angle
///     1e-6      a film: not there
///     1.6e-6 and more   what a tool is moved by, to leave no film
///     1e-3      the least that a design may be made of
///
/// So nothing that a tool's move adds or takes can be seen: it is a hundredth of the finest mesh tolerance.
namespace bandwright::geometry {

/// Points nearer than this are one, mm: some tens of operations on coordinates of a ring stay well below.
inline constexpr double kSamePoint = 1e-9;

/// Directions whose sine is smaller are the same: over a segment of 1 mm that is the same point.
inline constexpr double kSameDirection = 1e-9;

/// Angles round the ring nearer than this are one, radians: at 10 mm from the axis a hundredth of a film.
inline constexpr double kSameAngle = 1e-9;

/// Lines with a smaller sine of the angle between them stay within rounding of each other over the width of a
/// ring, and have no crossing.
inline constexpr double kParallel = 1e-12;

/// More than rounding can move a crossing of two outlines by, mm.
inline constexpr double kCrossingRounding = 1e-8;

/// What is shorter or thinner than this is not there, mm: bodies that touch are cut apart by no more.
inline constexpr double kFilm = 1e-6;

/// Two crossings of an arc nearer to each other than this may be one touch and rounding, mm: an arc of 1 mm
/// whose chord is so short reaches past it by about a nanometre, which is a film.
inline constexpr double kBrush = 1e-4;

/// The least dimension a design may have, mm: a thousand films, and finer than any lathe.
inline constexpr double kLeastMade = 1e-3;

/// How often a tool is moved before it is given up. No two moves are the same, so a tool that comes to lie on
/// something else by one of them leaves it by the next.
inline constexpr int kMostNudges = 12;

/// By how much a section's tool is larger all round at an attempt, mm; at attempt 0 it is as designed. More
/// than a film, so that no film is left where it was cut along an outline.
constexpr double sectionNudge(int attempt) {
    return attempt * 1.6e-6;
}

/// By how much a hole is wider on the radius and deeper at an attempt, mm. What it is to come apart from may
/// run nearly along it, so the steps grow; the two differ, so that cones move too.
constexpr double holeWidening(int attempt) {
    return attempt * attempt * 2.7e-6;
}
constexpr double holeDeepening(int attempt) {
    return attempt * attempt * 3.1e-6;
}

}  // namespace bandwright::geometry
