"""Every published source that a number or a check rests on, each with its id: the only bibliography."""

from __future__ import annotations

from dataclasses import dataclass

COMMON_PRACTICE = "common practice"
OWN_DERIVATION = "own derivation"


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A published source. `seen` says how it was consulted: "read", or "memory" where it was not re-read."""

    id: str
    text: str
    seen: str = "read"


def _all(*sources: Source) -> dict[str, Source]:
    return {source.id: source for source in sources}


SOURCES = _all(
    Source(
        id="en-13906-1",
        text="EN 13906-1, Cylindrical helical springs made from round wire and bar, part 1: compression springs.",
        seen="memory",
    ),
    Source(
        id="two-contact",
        text="Computed cases of two-contact valve dynamics, all inputs stated: fourth-order steps, 288,000 a turn.",
    ),
    Source(
        id="en-13906-1-sheet",
        text="EN 13906-1 verification sheet of a spring S.198, public web page: rate and lengths as printed there.",
    ),
    Source(
        id="en-10270-1",
        text="EN 10270-1, Steel wire for mechanical springs, patented cold drawn: moduli as in a verification sheet.",
    ),
    Source(
        id="en-10270-2", text="EN 10270-2, Steel wire for mechanical springs, oil hardened and tempered.", seen="memory"
    ),
    Source(
        id="shigley",
        text="R. G. Budynas, J. K. Nisbett, Shigley's Mechanical Engineering Design, 9th ed. 2011, ch. 10.",
        seen="memory",
    ),
    Source(
        id="shigley-answers",
        text="Worked answers of problems of Shigley's Mechanical Engineering Design, ch. 10 (8th and 10th ed.).",
    ),
    Source(
        id="metoolbox",
        text="Public code MEtoolbox (OmriStein), commit 064ecbbb: tests and notebook of a helical compression spring.",
    ),
    Source(
        id="bhandari",
        text="V. B. Bhandari, Design of Machine Elements, ch. 10; numbers read in a public solution file.",
    ),
    Source(
        id="dan-springs",
        text="Machine-design notes on springs, problem 2, University of Cambridge engineering web library.",
    ),
    Source(
        id="wahl",
        text="A. M. Wahl, Mechanical Springs, 2nd ed. 1963; conical formula read at a public design-data page.",
    ),
    Source(
        id="norton",
        text="R. L. Norton, Machine Design: An Integrated Approach, chapter on helical springs.",
        seen="memory",
    ),
    Source(
        id="timoshenko",
        text="S. P. Timoshenko, J. N. Goodier, Theory of Elasticity, 3rd ed. 1970, chapter on torsion.",
        seen="memory",
    ),
    Source(
        id="timoshenko-tables",
        text="Torsion of rectangular bars: three-figure coefficients read in a public structural-analysis manual.",
    ),
    Source(
        id="roark",
        text="Roark's Formulas for Stress and Strain, Table 10.1 case 4, read in public code that quotes it.",
    ),
    Source(
        id="rodriguez",
        text="E. Rodriguez, M. Paredes, M. Sartor, J. Mech. Des. 128 (2006) 1352: law of a conical compression spring.",
        seen="memory",
    ),
    Source(
        id="vdsicr-sheet",
        text="EN 10270-2:2011 grade VDSiCr, as in a wire maker's public data sheet; steps matched from memory.",
    ),
    Source(id="vdsicrv-sheet", text="EN 10270-2:2011 grade VDSiCrV, as in a wire maker's public data sheet."),
    Source(id="wire-supplier", text="A wire supplier's public table of spring materials: upper temperatures."),
    Source(
        id="exam-handbook",
        text="Constants of an engineering exam's reference handbook, as in two public worked problems.",
    ),
    Source(id="en-15800", text="EN 15800:2008 (DIN 2095), tolerances of compression springs; read in public codes."),
    Source(
        id="surge-rule",
        text="Ratio of natural to forcing frequency, 15 to 20: Shigley sec. 10-8 and a public engineering page.",
    ),
    Source(id="nist-norris", text="NIST Statistical Reference Datasets, Norris: certified linear regression."),
    Source(
        id="nist-pontius",
        text="NIST Statistical Reference Datasets, Pontius (load cell): certified quadratic regression.",
    ),
    Source(id="nist-univariate", text="NIST Statistical Reference Datasets, univariate: NumAcc1, NumAcc3, Mavro."),
    Source(id="nist-anova", text="NIST Statistical Reference Datasets, analysis of variance: SiRstv."),
    Source(
        id="msa",
        text="MSA (AIAG Measurement Systems Analysis, 4th ed.), III-B data sheet; data read in a public test file.",
    ),
    Source(
        id="iglewicz-hoaglin",
        text="B. Iglewicz, D. C. Hoaglin, How to Detect and Handle Outliers, ASQC 1993: modified z-score, 3.5.",
        seen="memory",
    ),
    Source(
        id="rosner",
        text="B. Rosner, Technometrics 25 (1983) 165: generalized extreme studentized deviate, with its 54 values.",
        seen="memory",
    ),
    Source(id="gum", text="JCGM 100:2008, Guide to the expression of uncertainty in measurement."),
    Source(id="gum-h1", text="JCGM 100:2008, annex H.1, end-gauge calibration; numbers read in public test files."),
    Source(
        id="gum-h3",
        text="JCGM 100:2008, annex H.3, thermometer calibration line; data read, results from memory.",
        seen="memory",
    ),
    Source(
        id="fritsch-butland",
        text="F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300: monotone interpolation.",
        seen="memory",
    ),
    Source(
        id="norton-cam",
        text="R. L. Norton, Cam Design and Manufacturing Handbook: laws and peak factors of double-dwell motions.",
        seen="memory",
    ),
    Source(
        id="rothbart",
        text="H. A. Rothbart, Cam Design Handbook: pieces of the modified sine, read in a public forum thread.",
    ),
    Source(
        id="thoren",
        text="T. R. Thoren, H. H. Engemann, D. A. Stoddart, SAE Quarterly Transactions 6 (1952): valve-train dynamics.",
        seen="memory",
    ),
    Source(
        id="stoddart",
        text="D. A. Stoddart, Polydyne Cam Design, Machine Design 1953: power polynomials and the cam for them.",
        seen="memory",
    ),
    Source(
        id="shigley-uicker",
        text="J. E. Shigley, J. J. Uicker, Theory of Machines and Mechanisms, chapter on cams.",
        seen="memory",
    ),
    Source(
        id="cam-problems",
        text="Public problem pages on cams: harmonic and uniform acceleration, tangent and arc flanks, eccentric disc.",
    ),
    Source(
        id="reinsch",
        text="C. H. Reinsch, Numerische Mathematik 10 (1967) 177: smoothing by spline functions.",
        seen="memory",
    ),
    Source(
        id="kim-gu",
        text="Y.-J. Kim, C. Gu, J. R. Stat. Soc. B 66 (2004) 337: cross-validation, freedom times 1.2 to 1.4.",
        seen="memory",
    ),
    Source(
        id="johnson-contact",
        text="K. L. Johnson, Contact Mechanics, Cambridge 1985, ch. 3 and 4.",
        seen="memory",
    ),
    Source(
        id="hamrock-machine",
        text="B. J. Hamrock, Fundamentals of Machine Elements, chapters on Hertzian contact and lubrication.",
        seen="memory",
    ),
    Source(
        id="hamrock-film",
        text="B. J. Hamrock, Lubrication of Machine Elements, NASA RP-1126, 1984; Hamrock and Dowson 1977.",
        seen="memory",
    ),
    Source(
        id="dowson-higginson",
        text="D. Dowson, G. R. Higginson, Elasto-hydrodynamic Lubrication, 1966: least film of a line contact.",
        seen="memory",
    ),
    Source(
        id="stachowiak",
        text="G. W. Stachowiak, A. W. Batchelor, Engineering Tribology, 2nd ed., ch. 7, and an exercise.",
    ),
    Source(
        id="boresi",
        text="A. P. Boresi, R. J. Schmidt, Advanced Mechanics of Materials, ch. 17, Ex. 17.1: inputs read.",
    ),
    Source(
        id="abramowitz-stegun",
        text="M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 17.6.",
        seen="memory",
    ),
    Source(
        id="machinerys-handbook",
        text="Machinery's Handbook, section Cams and Cam Design, table Cam Materials: from memory, in no stored copy.",
        seen="memory",
    ),
    Source(
        id="norton-contact",
        text="R. L. Norton, Machine Design, Ex. 7-2 (cylinder on a plane), read in a public worksheet.",
    ),
    Source(
        id="shigley-contact",
        text="Shigley's Mechanical Engineering Design, 9th ed., sec. 3-19, Prob. 3-138, table of moduli.",
        seen="memory",
    ),
    Source(
        id="engineers-data-book",
        text="Mechanical Engineer's Data Handbook, pp. 52 and 92, page images.",
    ),
    Source(
        id="astm-d341",
        text="ASTM D341, Viscosity-temperature charts for liquid petroleum products: formula read.",
    ),
    Source(
        id="sae-j300",
        text="SAE J300, Engine oil viscosity classification, limits of 2013 and 2015, read in public tables.",
    ),
    Source(
        id="seireg-dandage",
        text="Seireg and Dandage in Shigley, Table 12-1; one value read in the instructor's solutions, Prob. 12-20.",
    ),
    Source(
        id="api-categories",
        text="API and ILSAC engine oil categories: phosphorus; SM/GF-4, GF-5, CJ-4 read, others from memory.",
    ),
    Source(
        id="iso-281",
        text="ISO 281:2007, Rolling bearings, dynamic load ratings and rating life: formulas read in public notes.",
    ),
    Source(
        id="iso-76",
        text="ISO 76:2006, Rolling bearings, static load ratings: formulas read in public notes.",
    ),
    Source(
        id="bearing-catalogue",
        text="General bearing catalogues, technical parts: static safety, greatest roller load.",
    ),
    Source(
        id="shigley-bearings",
        text="Shigley's Mechanical Engineering Design, ch. 11 and 12, Table 12-8; instructor's solutions read.",
        seen="memory",
    ),
    Source(
        id="raimondi-boyd",
        text="A. A. Raimondi, J. Boyd, ASLE Transactions 1 (1958), part III tables.",
        seen="memory",
    ),
    Source(
        id="reynolds-solution",
        text="Finite-difference solution of Reynolds' equation for a full journal bearing, worked out here.",
    ),
    Source(
        id="mott",
        text="R. L. Mott, Machine Elements in Mechanical Design, Table 16-1 and ch. 16, read on public pages.",
    ),
    Source(
        id="machine-elements-351",
        text="Analysis and Design of Machine Elements, Table 12.5, p. 351, page image.",
    ),
    Source(
        id="petroff",
        text="Petroff's equation; Shigley, 9th ed., eq. 12-6.",
        seen="memory",
    ),
    Source(
        id="merritt",
        text="H. E. Merritt, Hydraulic Control Systems, 1967: entrained air, laminar annulus.",
        seen="memory",
    ),
    Source(
        id="rabie",
        text="M. G. Rabie, Fluid Power Engineering, eq. 2.19 and 2.57, page images.",
    ),
    Source(
        id="callister",
        text="W. D. Callister, Materials Science and Engineering, Table B.6: expansion; steel from memory.",
    ),
    Source(
        id="asme-b1-1",
        text="ASME B1.1, Unified inch screw threads: designations read in a public list.",
    ),
    Source(
        id="iso-261",
        text="ISO 261, ISO general purpose metric screw threads: designations read in a public list.",
    ),
    Source(
        id="shigley-columns",
        text="Shigley's Mechanical Engineering Design, 9th ed., sec. 4-12 and 4-13, Ex. 4-17 and 4-18.",
        seen="memory",
    ),
    Source(
        id="shigley-column-answers",
        text="Shigley's Mechanical Engineering Design, instructor's solutions, 8th ed., Prob. 4-74: formula read.",
    ),
    Source(
        id="hibbeler",
        text="R. C. Hibbeler, Mechanics of Materials, Ex. 13.1 (hollow column), read on a public page.",
    ),
    Source(
        id="norton-columns",
        text="R. L. Norton, Machine Design, a column problem: inputs read on a public page, result worked out here.",
    ),
    Source(
        id="own-form",
        text="Closed forms of geometry and mechanics, worked out apart from this program in a table of check values.",
    ),
)
