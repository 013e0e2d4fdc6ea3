// What a person describes: a tote (or a coupon, "sheet"), its layers, straps, contents and support.
// Plain SI values, every default filled in; the reader (reader.hpp) makes it from a scene file.
#pragma once

#include <Eigen/Core>
#include <array>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/choose.hpp"
#include "totebench/scenes/sweep.hpp"

namespace totebench::scenes {

// How a layer works together with those outside it (see totebench/materials/stack.hpp).
enum class LayerJoin { kFused, kStitchedGrid, kSewnAtEdges, kLoose };

struct Layer {
  std::string material;                // library id, or an entry of the scene's own "materials"
  LayerJoin join = LayerJoin::kFused;  // to the layer listed before it (outermost first)
  double thickness_m = 0;              // 0 = the library's
  double grid_pitch_m = 0;             // quilting pitch, for kStitchedGrid
  double warp_angle_rad = 0;           // of this layer against the panel's warp
  bool operator==(const Layer&) const = default;
};

enum class BagShape {
  kBoxed,    // two panels with boxed corners
  kGusset,   // separate base with front, back and sides
  kRounded,  // wide slouchy bag: two faces with rounded lower corners, flat when empty
  kSack,     // flat two-panel sack
  kPieces    // pattern pieces of one's own
};

// A place on a piece's outline, by which its edges are named.
struct PieceMark {
  std::string name;
  int at = 0;  // index into Piece::outline_m
  bool operator==(const PieceMark&) const = default;
};

enum class PieceLayers { kUpper, kLower, kBase };  // the region of Scene::layers that it is made of

// A pattern piece as seen from the right side of its cloth.
struct Piece {
  std::string name;
  std::string outline;    // id of its path in the drawing; empty = its name
  bool mirrored = false;  // cut from cloth turned over
  PieceLayers layers = PieceLayers::kUpper;
  double warp_angle_rad = 0;  // of the warp against the drawing's upright, of the path as drawn
  // Sewing line, closed, counter-clockwise; m in the drawing's axes, y up. From the drawing.
  std::vector<Eigen::Vector2d> outline_m;
  std::vector<PieceMark> marks;  // along the outline
  bool operator==(const Piece&) const = default;
};

enum class EdgeUse { kSeam, kFold, kPleat, kOpening };
// An edge of a piece: "front a b", the piece and the marks along it in order.
struct PieceEdge {
  std::string edge;
  std::string to;  // the edge that it is sewn to, mark on mark; empty for the opening
  EdgeUse use = EdgeUse::kSeam;
  bool gathered = false;  // the longer is drawn in evenly to the shorter
  bool operator==(const PieceEdge&) const = default;
};

struct Bag {
  BagShape shape = BagShape::kBoxed;
  double width_m = 0;          // finished front width (of the standing bag for boxed and gusset)
  double height_m = 0;         // finished height, opening to base (or to bottom seam)
  double depth_m = 0;          // boxed and gusset
  double corner_radius_m = 0;  // rounded
  double upper_height_m = 0;   // > 0: a crosswise seam this far below the opening
  int lengthwise_seams = 0;    // evenly spaced on each face
  double warp_angle_rad = 0;   // warp against the vertical (walls) / the width (base)
  double base_warp_angle_rad = 0;
  double seam_allowance_m = 0;
  double hem_m = 0;  // depth of the turned hem at the opening
  // Pieces of one's own. The sizes above then follow from them (totebench/scenes/sewing.hpp): the
  // width of the front at the opening, the height from there to the lowest place, the depth of the
  // base as drawn.
  std::string file;    // SVG; relative paths are resolved against the scene file
  double ruler_m = 0;  // length of the path called "ruler"; 0 = the drawing tells its size
  std::vector<Piece> pieces;
  std::vector<PieceEdge> edges;
  double base_width_m = 0;  // of the base as drawn
  bool operator==(const Bag&) const = default;
};

struct SeamSpec {
  std::string thread;
  std::string stitch_type = "301";
  double stitch_length_m = 0;
  std::optional<double> hinge_stiffness_N;  // default from the plies
  bool operator==(const SeamSpec&) const = default;
};

enum class StrapStyle { kTwoHandles, kShoulderStrap };
enum class AttachmentPattern {
  kBox,
  kBoxCross,
  kRows,
  kBartacks,  // dense zigzag bars across the strap
  kRivets,    // on the strap's centre line
  kInHem,     // the strap's end lies between panel and turned hem, two rows through all three
  kToBase     // sewn down along both edges as far as the base, box with cross at the top
};

struct Attachment {
  AttachmentPattern pattern = AttachmentPattern::kBox;
  int rows = 1;             // lines of stitching across the strap (kRows), bartacks, rivets
  double length_m = 0;      // height of the stitched box (or span of the rows)
  double top_offset_m = 0;  // from the opening down to the first row
  double stitch_length_m = 0;
  std::string stitch_type = "301";
  std::string thread;
  bool patch = false;           // a backing patch of the panel's own cloth behind it
  int tack_stitches = 28;       // of one bartack
  double tack_width_m = 0.002;  // of its zigzag
  double rivet_cap_m = 0.009;   // diameter of a rivet's cap
  bool operator==(const Attachment&) const = default;
};

struct Strap {
  StrapStyle style = StrapStyle::kTwoHandles;
  std::string material;  // webbing, leather or a cloth to be folded
  double width_m = 0;
  double thickness_m = 0;  // 0 = from the material
  double length_m = 0;     // visible length between the two points where it meets the opening
  int plies = 1;           // folded cloth: plies across the finished strap
  double spacing_m = 0;    // centre to centre of its ends (two handles)
  double overlap_m = 0;    // length lying on the panel
  Attachment attachment;
  bool operator==(const Strap&) const = default;
};

enum class BaseKind { kNone, kStitched, kPocket };
struct BaseSheet {
  BaseKind kind = BaseKind::kNone;
  std::string material;
  double thickness_m = 0;
  double clearance_m = 0;  // smaller than the finished base on each side
  double corner_radius_m = 0;
  bool operator==(const BaseSheet&) const = default;
};

struct Feet {
  int count = 0;       // 0, 4 or 5
  double inset_m = 0;  // from each edge of the base
  double patch_m = 0;  // side of the square reinforcement
  double mass_each_kg = 0;
  double height_m = 0;  // of one below the base
  bool operator==(const Feet&) const = default;
};

enum class ContentsKind { kEven, kLoose, kItems };
// Where on the base an even load or items lie.
enum class ContentsPlace {
  kAllOver,
  kMiddle,  // the middle half of its length and of its depth
  kOneEnd   // the half beside one end
};
enum class ItemShape { kBox, kCylinder, kSphere };
enum class ItemWay { kAsListed, kLaidFlat, kOnEnd };
// Things of one kind in the bag, rigid.
struct Item {
  int what = 0;  // place in ordinary_things(); 0 = a shape of its own
  ItemShape shape = ItemShape::kBox;
  double length_m = 0;    // box: along the bag's width
  double width_m = 0;     // box: along its depth
  double height_m = 0;    // box, cylinder
  double diameter_m = 0;  // cylinder, sphere
  double mass_kg = 0;     // of one
  double friction = 0;    // coefficient against the bag
  int count = 1;
  ItemWay way = ItemWay::kAsListed;
  bool operator==(const Item&) const = default;
};

struct Contents {
  ContentsKind kind = ContentsKind::kEven;
  double mass_kg = 0;                             // of all
  double bulk_density_kg_per_m3 = 0;              // loose
  double friction_angle_rad = 0;                  // loose; 0 = a liquid, K = 1 - sin(phi)
  double carried_for_s = 1800;                    // hanging loaded, before it is looked at
  ContentsPlace place = ContentsPlace::kAllOver;  // even, items
  std::vector<Item> items;
  bool operator==(const Contents&) const = default;
};

// On a table the bag stands and its straps are laid aside: studies put it there, no scene file
// does.
enum class SupportKind { kHook, kHand, kTable };
struct Support {
  SupportKind kind = SupportKind::kHand;
  double diameter_m = 0;    // hook: of the peg
  double grip_width_m = 0;  // hand
  bool operator==(const Support&) const = default;
};

struct MeshSpec {
  double size_m = 0;  // edge length of the final mesh
  bool operator==(const MeshSpec&) const = default;
};

struct SolveSpec {
  int load_steps = 4;
  unsigned seed = 1;
  int shapes = 2;       // starts tried when looking for a second stable shape; 0 = do not look
  bool contact = true;  // the bag's surfaces do not pass through each other
  bool operator==(const SolveSpec&) const = default;
};

// How `rate` turns the load at first failure into a rated mass.
struct RatingSpec {
  double design_factor = 5;
  int samples = 200;  // of the material scatter
  unsigned seed = 1;
  bool operator==(const RatingSpec&) const = default;
};

// How the bag is used, for `wear`.
struct UseSpec {
  double times_a_week = 5;
  double walk_m = 500;      // each time
  int lifts = 1;            // each time, from the floor
  double loaded_hours = 1;  // each time, hanging
  int uses = 0;             // a carry test: so many times must be endured; 0 = no test
  bool operator==(const UseSpec&) const = default;
};

// An expectation an example carries about its own result: low <= findings[key] <= high.
struct Expectation {
  std::string key;  // of findings.json, e.g. "bottom_sag_m"; "probes.tip.displacement_z_m" for a
                    // probe; peak_stitch_N and peak_N_per_m mean the largest over all strap seams
  double low = 0;
  double high = 0;
  bool operator==(const Expectation&) const = default;
};

// The same bag with something changed, for laying side by side (`totebench compare`).
struct Variant {
  std::string name;
  std::string note;
  std::string change;  // JSON text: a merge patch (RFC 7396) on the scene file's own keys
  bool operator==(const Variant&) const = default;
};

// ---- sheet scenes ---------------------------------------------------------------------------

enum class SheetShape { kStrip, kRectangle, kDisc, kAnnulus, kCylinder, kSphere, kFile };

// Flat triangles of a mesh file, as they stand in it.
struct FlatFaces {
  std::vector<Eigen::Vector3d> points;  // m
  std::vector<std::array<int, 3>> corners;
  bool operator==(const FlatFaces&) const = default;
};

struct SheetGeometry {
  SheetShape shape = SheetShape::kRectangle;
  double length_m = 0;        // along x (strip, rectangle), along the axis (cylinder)
  double width_m = 0;         // along y
  double radius_m = 0;        // disc, annulus outer, cylinder, sphere
  double inner_radius_m = 0;  // annulus
  double from_angle_rad = 0;  // sector: annulus, cylinder (about the axis), sphere (about z)
  double to_angle_rad = 0;
  double from_latitude_rad = 0;  // sphere
  double to_latitude_rad = 0;
  std::string file;  // .obj, .stl or .vtp, relative paths resolved against the scene file
  FlatFaces
      faces;  // of a .vtp, read by the program (totebench/viz/surface_file.hpp); .obj, .stl: empty
  bool operator==(const SheetGeometry&) const = default;
};

enum class Wrinkles {
  kOnMesh,        // as far as the mesh shows them
  kFinerThanMesh  // a film's: it carries no compression (Section::tension_field)
};

// Either layers from the library, or plain numbers (teaching, verification).
struct PlainSection {
  double youngs_modulus_Pa = 0;
  double poisson_ratio = 0;
  double thickness_m = 0;
  double areal_mass_kg_per_m2 = 0;
  Wrinkles wrinkles = Wrinkles::kOnMesh;
  bool operator==(const PlainSection&) const = default;
};

// Parts of a sheet's border (or a point) that supports, loads and probes refer to: the side names
// of sheet_chart.hpp, or "border" for all of it, and points of the rest shape.
struct SheetSupport {
  std::string where;  // edge name, or empty when a point is given
  std::optional<Eigen::Vector3d> point_m;
  bool fix[3] = {true, true, true};
  bool clamp = false;                     // slope held as well
  std::optional<Eigen::Vector3d> move_m;  // at the full load, along what is held
  bool operator==(const SheetSupport&) const = default;
};

struct SheetLoad {
  enum class Kind { kGravity, kPressure, kAreaForce, kEdgeForce, kPointForce, kEdgeMoment, kFill };
  Kind kind = Kind::kGravity;
  std::string where;
  std::optional<Eigen::Vector3d> point_m;
  Eigen::Vector3d vector = Eigen::Vector3d::Zero();  // N, N/m, Pa by kind
  double magnitude = 0;  // Pa (pressure), N (moment per length), kg (fill)
  double bulk_density_kg_per_m3 = 0;
  bool operator==(const SheetLoad&) const = default;
};

struct Probe {
  std::string name;
  Eigen::Vector3d point_m = Eigen::Vector3d::Zero();  // nearest node of the rest shape
  bool operator==(const Probe&) const = default;
};

struct SheetScene {
  SheetGeometry geometry;
  std::vector<Layer> layers;
  std::optional<PlainSection> plain;
  double warp_angle_rad = 0;
  // Of a strip or rectangle: how far it starts bent upwards (towards +z) along its length, into an
  // arc that leaves x0 along x. Its rest shape stays flat, and borders are held where they then
  // lie.
  double start_bend_rad = 0;
  std::vector<SheetSupport> supports;
  std::vector<SheetLoad> loads;
  std::vector<Probe> probes;
  bool operator==(const SheetScene&) const = default;
};

// ---------------------------------------------------------------------------------------------

enum class SceneKind { kTote, kSheet };

struct Scene {
  int schema_version = 1;
  SceneKind kind = SceneKind::kTote;
  std::string name;
  std::string note;
  std::string units = "cm";  // how a person wants lengths back: in, cm, si

  Bag bag;
  std::map<std::string, std::vector<Layer>> layers;  // "upper", "lower", "base", "hem"
  SeamSpec seams;
  std::vector<Strap> straps;  // exactly one entry: its style says how many ribbons
  BaseSheet base;
  Feet feet;
  Contents contents;
  Support support;

  SheetScene sheet;

  MeshSpec mesh;
  SolveSpec solve;
  RatingSpec rating;
  UseSpec use;
  std::vector<Expectation> expect;
  std::vector<Variant> variants;
  std::optional<ChooseSpec> choose;
  std::optional<SweepSpec> sweep;
  std::vector<materials::Material> own_materials;  // see library_of(scene, library) in reader.hpp
  std::map<std::string, std::string> own_material_like;  // id -> library id it started from
  std::map<std::string, std::string> own_material_file;  // id -> material file it started from
};

}  // namespace totebench::scenes
