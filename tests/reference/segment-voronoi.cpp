// Narrowest places of an outline from the exact Voronoi diagram of its segments (Boost.Polygon), an independent
// reference for src/geometry/width*.ts. Shares no code or method with it: no discs are grown, no outline is walked.
//
// Build:  c++ -O2 segment-voronoi.cpp -o segment-voronoi      (needs the Boost headers)
// Use:    segment-voronoi OUTLINE LIMIT [times]
// OUTLINE is binary: int32 number of rings, then for each int32 number of points and its x, y as doubles, mm.
// Prints one line `x y width` for each pair of places of the outline that face each other straight across an
// empty disc inside the region, narrower than LIMIT, unless the outline joining them is shorter than three times the
// width or half the limit (a dent in a wall) or one of them is an outline shorter than a twentieth of it (dust). With `times`, prints the processor milliseconds of building and walking instead.
#include <boost/polygon/point_data.hpp>
#include <boost/polygon/segment_data.hpp>
#include <boost/polygon/voronoi.hpp>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <vector>

using namespace boost::polygon;
using Point = point_data<int>;
using Segment = segment_data<int>;
using Diagram = voronoi_diagram<double>;

static const double UNITS = 1e6;  // per millimetre: coordinates are whole nanometres
static const double SLACK = 0.01;  // units: the diagram's own rounding

struct Place { double x, y; };
struct Wall { Segment segment; int ring; double before; };
struct Outline { std::vector<Wall> walls; std::vector<double> around; };

static Place low_end(const Segment& s) { return {double(low(s).x()), double(low(s).y())}; }
static Place high_end(const Segment& s) { return {double(high(s).x()), double(high(s).y())}; }
static double apart(Place a, Place b) { return std::hypot(a.x - b.x, a.y - b.y); }

static Outline read(const char* path) {
  Outline outline;
  FILE* file = std::fopen(path, "rb");
  int32_t rings = 0;
  if (!file || std::fread(&rings, 4, 1, file) != 1) std::exit(1);
  for (int ring = 0; ring < rings; ring++) {
    int32_t count = 0;
    if (std::fread(&count, 4, 1, file) != 1) std::exit(1);
    std::vector<double> values(2 * count);
    if (std::fread(values.data(), 8, values.size(), file) != values.size()) std::exit(1);
    std::vector<Point> points;
    for (int k = 0; k < count; k++) {
      Point p(int(std::llround(values[2 * k] * UNITS)), int(std::llround(values[2 * k + 1] * UNITS)));
      if (points.empty() || !(points.back() == p)) points.push_back(p);
    }
    while (points.size() > 1 && points.front() == points.back()) points.pop_back();
    double before = 0;
    for (size_t k = 0; k < points.size(); k++) {
      Segment s(points[k], points[(k + 1) % points.size()]);
      outline.walls.push_back({s, ring, before});
      before += apart(low_end(s), high_end(s));
    }
    outline.around.push_back(before);
  }
  std::fclose(file);
  return outline;
}

// What a Voronoi cell belongs to: a whole segment, or one of its ends.
struct Feature { size_t wall; bool is_point; Place point; };

static Feature feature_of(const Diagram::cell_type& cell, const Outline& outline) {
  size_t wall = cell.source_index();
  const Segment& s = outline.walls[wall].segment;
  if (cell.contains_segment()) return {wall, false, {0, 0}};
  bool start = cell.source_category() == SOURCE_CATEGORY_SEGMENT_START_POINT;
  return {wall, true, start ? low_end(s) : high_end(s)};
}

static Place foot(const Segment& s, Place p) {
  Place a = low_end(s), b = high_end(s);
  double dx = b.x - a.x, dy = b.y - a.y;
  double t = ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy);
  t = t < 0 ? 0 : t > 1 ? 1 : t;
  return {a.x + t * dx, a.y + t * dy};
}

// The two places of a pair of features that can face each other straight across; false when there are none.
static bool facing(const Feature& a, const Feature& b, Place middle, const Outline& o, Place& p, Place& q) {
  if (a.is_point && b.is_point) { p = a.point; q = b.point; return true; }
  if (a.is_point || b.is_point) {
    const Segment& s = o.walls[a.is_point ? b.wall : a.wall].segment;
    Place end = a.is_point ? a.point : b.point, across = foot(s, end);
    p = a.is_point ? end : across;
    q = a.is_point ? across : end;
    return apart(across, low_end(s)) > 0 && apart(across, high_end(s)) > 0;
  }
  p = foot(o.walls[a.wall].segment, middle);
  q = foot(o.walls[b.wall].segment, middle);
  double r = apart(p, middle), s = apart(q, middle);
  if (r < SLACK || s < SLACK) return false;
  return ((p.x - middle.x) * (q.x - middle.x) + (p.y - middle.y) * (q.y - middle.y)) / (r * s) < -1 + 1e-12;
}

static bool is_empty(Place c, double r, const Outline& outline) {
  for (const Wall& wall : outline.walls)
    if (apart(foot(wall.segment, c), c) < r - SLACK) return false;
  return true;
}

static bool is_inside(Place c, const Outline& outline) {
  bool inside = false;
  for (const Wall& wall : outline.walls) {
    Place a = low_end(wall.segment), b = high_end(wall.segment);
    if ((a.y > c.y) != (b.y > c.y) && c.x < (b.x - a.x) * (c.y - a.y) / (b.y - a.y) + a.x) inside = !inside;
  }
  return inside;
}

static bool is_dent(const Feature& a, Place p, const Feature& b, Place q, double limit, const Outline& outline) {
  const Wall &one = outline.walls[a.wall], &two = outline.walls[b.wall];
  if (std::fmin(outline.around[one.ring], outline.around[two.ring]) < limit * UNITS / 20) return true;
  if (one.ring != two.ring) return false;
  double way = std::fabs(one.before + apart(low_end(one.segment), p) - two.before - apart(low_end(two.segment), q));
  way = std::fmin(way, outline.around[one.ring] - way);
  return way < std::fmax(3 * apart(p, q), limit * UNITS / 2);
}

int main(int count, char** values) {
  if (count < 3) return 2;
  Outline outline = read(values[1]);
  double limit = std::atof(values[2]);
  std::vector<Segment> segments;
  for (const Wall& wall : outline.walls) segments.push_back(wall.segment);
  std::clock_t start = std::clock();
  Diagram diagram;
  construct_voronoi(segments.begin(), segments.end(), &diagram);
  long candidates = 0;
  for (const auto& edge : diagram.edges()) {
    if (!edge.is_primary() || !edge.is_finite() || &edge > edge.twin()) continue;
    Feature a = feature_of(*edge.cell(), outline), b = feature_of(*edge.twin()->cell(), outline);
    Place middle = {(edge.vertex0()->x() + edge.vertex1()->x()) / 2, (edge.vertex0()->y() + edge.vertex1()->y()) / 2};
    Place p, q;
    if (!facing(a, b, middle, outline, p, q)) continue;
    double width = apart(p, q);
    if (width < SLACK || width >= limit * UNITS) continue;
    candidates++;
    if (count > 3) continue;
    Place c = {(p.x + q.x) / 2, (p.y + q.y) / 2};
    if (is_dent(a, p, b, q, limit, outline) || !is_empty(c, width / 2, outline) || !is_inside(c, outline)) continue;
    std::printf("%.6f %.6f %.9f\n", c.x / UNITS, c.y / UNITS, width / UNITS);
  }
  if (count > 3) std::printf("%.1f %ld\n", 1000.0 * double(std::clock() - start) / CLOCKS_PER_SEC, candidates);
}
