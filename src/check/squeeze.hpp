#pragma once

#include "geometry/section.hpp"

/// A ring squeezed across its diameter by two opposite forces: Roark's Formulas for Stress and Strain, table
/// for circular rings, case 1, with the factors of a thick ring; stresses over a section by the curved beam
/// theory of Winkler and Bach. Bending out of the ring's plane, which a lopsided section adds, is left out.
namespace bandwright::check {

/// A section as the beam that is bent into the ring.
struct CurvedBeam {
    double area = 0;      ///< mm2
    double centroid = 0;  ///< mm from the ring's axis: R
    double neutral = 0;   ///< mm from the axis, where bending leaves no stress: A / integral of dA / r
    geometry::Vec2 innermost, outermost;  ///< the fibres nearest to and farthest from the axis

    double eccentricity() const { return centroid - neutral; }  ///< e, mm
};

/// Of a section with some area.
CurvedBeam curvedBeam(const geometry::Section& section);

/// Force over deflection along the force, N/mm. `modulus` in MPa, Poisson's ratio 0.3, shear as in a
/// rectangle (F = 6/5).
double squeezeStiffness(const CurvedBeam& beam, double modulus);

/// How far a ring held by three forces spread evenly round its outside is pressed in under each and out
/// between them, together, mm for 1 N at each: Roark, circular rings, case 7, thin. A bore cut true meanwhile
/// springs back out of round by as much.
double lobesUnderThreeJaws(const CurvedBeam& beam, double modulus);

/// Moment about the centroid and tension in a section for 1 N of squeeze; a moment that opens the ring is
/// positive.
struct SectionLoad {
    double moment = 0;   ///< N mm for each N
    double tension = 0;  ///< N for each N
};

/// Under one of the forces, where the moment is largest: W R k2 / pi.
SectionLoad underTheForce(const CurvedBeam& ring);

/// A quarter turn from the forces.
SectionLoad besideTheForce(const CurvedBeam& ring);

/// The factor by which the stress beside a hole exceeds that in the net section.
struct Concentration {
    double bending = 1, tension = 1;
};

/// For a round hole through the middle of a bar: Roark, table of stress concentration factors, after
/// Peterson. Diameter, width of the bar and its thickness along the hole in mm. Beyond three tenths of the
/// width, where the formula for bending ends, its last value is kept, which is larger.
Concentration besideHole(double diameter, double width, double thickness);

/// The stress in MPa for each N at the innermost and the outermost fibre.
double stressAt(const CurvedBeam& beam, double radius, const SectionLoad& load, const Concentration& hole);

}  // namespace bandwright::check
