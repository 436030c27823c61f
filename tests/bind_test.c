/* SPDX-License-Identifier: MIT
 * The one binding, tried on every primitive: what a script may pass, what it gets, what it is told when it is wrong.
 * The numbers themselves are checked in the primitives' own suites; here they are the direct call's, bit for bit. */
#include "job_run.h"
#include "bind/open.h"
#include "value/quantity.h"
#include "op_check.h"

/* A good call of each primitive, as a script writes it. */
static const struct good { const char *op, *text; } goods[] = {
  { "layout", "{ module_length = 1722mm, module_width = 1134mm, orientation = 'portrait', rows = 2, columns = 4, "
        "column_gap = 20mm, "
              "row_gap = 20mm, tilt = 35deg, lower_edge = 24in, joints = 1, joint_gap = 84mm }" },
  { "bearing", "{ slope_length = 136.4in, tilt = 35deg, lower_edge = 24in, fraction = 20%, stack = 11in }" },
  { "lift", "{ mass = 28.5kg, per_person = 25kg }" },
  { "reach", "{ height = 159in }" },
  { "turned", "{ slope_length = 136.4in, tilt = 35deg, lower_edge = 24in, stack = 11in, pivot = 20%, line = 80%, "
        "to = 60deg }" },
  { "brace", "{ apart = 67in, foot_ground = 0in, low = 8in, foot_top = 77in, head_top = 30in, high = 6in, "
        "head_ground = 0in, past = 2in }" },
  { "post_cut", "{ bearing_height = 30.63in, ground = 2in, hole_depth = 36in, gravel = 6in }" },
  { "leg", "{ needed = 1312mm, slide = 60mm, lengths = { 1200mm, 1300mm, 1500mm } }" },
  { "trim", "{ stock = 16ft, cut = 180in, reserve = 2in, embedment = 60in }" },
  { "plate", "{ width = 3in, screw_line = 1.5in, fastener = 0.5in, edition = 'NDS 2018' }" },
  { "tolerance_stack", "{ layout = 0.5in, drift = 1in, plumb = 1%, height = 8ft }" },
  { "block", "{ length = 2.6m, width = 0.5m, height = 0.4m, density = 2400kg/m3 }" },
  { "diagonal", "{ along = 145in, across = 67.03in }" },
  { "rail_length", "{ row_width = 180.9in, end_allowance = 1.25in }" },
  { "stations", "{ row_width = 180.9in, posts = 3, spacing = 72.5in }" },
  { "expansion", "{ material = 'aluminium', coefficient = 0.0023%/K, length = 30ft, range = 55K }" },
  { "rail_runs", "{ module = 1134mm, columns = 10, column_gap = 20mm, joint_gap = 84mm, end_allowance = 32mm, "
        "limit = 11m, joints = {} }" },
  { "beam", "{ length = 10m, ei = 20000[N*m2], load = 500N/m, supports = { 1m, 5m, 9m }, hinges = {}, "
        "patch_from = { 2m }, patch_to = { 4m }, patch_load = { 200N/m }, point_at = { 10m }, "
        "point_load = { 300N } }" },
  { "rail_joints", "{ from = 0in, to = 274.3in, supports = { 17in, 97in, 177in, 257in }, zone_from = 20%, "
        "zone_to = 30%, end_bays = true, stock = { 132in, 168in }, prices = { $31, $38 } }" },
  { "rail_reach", "{ from = 0in, to = 274.3in, supports = { 17in, 97in, 177in, 257in }, zone_from = 20%, "
        "zone_to = 30%, end_bays = true }" },
  { "splice", "{ from = 0in, to = 274.3in, supports = { 17in, 97in, 177in, 257in }, at = 168in }" },
  { "row_bearing", "{ facing = 200deg }" },
  { "place", "{ east = 10ft, north = 20ft, facing = 200deg, along = 5ft, behind = 4ft }" },
  { "rack_outline", "{ east = 10ft, north = 20ft, facing = 200deg, row_width = 30ft, plan_depth = 10ft }" },
  { "place_beside", "{ east = 10ft, north = 20ft, facing = 200deg, row_width = 30ft, aisle = 8ft, step = -2ft }" },
  { "place_behind", "{ east = 10ft, north = 20ft, facing = 200deg, plan_depth = 10ft, gap = 6ft }" },
  { "apart", "{ outlines = { { east = 0ft, north = 0ft, facing = 180deg, along = 30ft, across = 10ft }, "
      "{ east = 38ft, north = 0ft, facing = 180deg, along = 30ft, across = 10ft } } }" },
  { "holes_apart", "{ holes = { { east = 0ft, north = 0ft, diameter = 18in, rack = 1 }, "
      "{ east = 8ft, north = 1ft, diameter = 18in, rack = 2 } } }" },
  { "noon_sun", "{ latitude = 36.2deg }" },
  { "row_shadow", "{ elevation = 30deg, bearing = 180deg, facing = 200deg, drop = 6ft, gap = 8ft, tilt = 35deg, "
      "slope_length = 136in }" },
  { "bays", "{ row_width = 4m, bays = { 1.2m, 1m, 0.8m }, set_in = 0.4m }" },
  { "rail_places", "{ side = 1722mm, rows = 2, row_gap = 20mm, zone_least = 300mm, zone_most = 450mm }" },
  { "rail_crossings", "{ side = 1722mm, rows = 2, row_gap = 20mm, at = { 375mm, 1347mm, 2117mm } }" },
  { "clamps", "{ across = 1134mm, columns = 4, column_gap = 20mm, joints = { 2, 3 }, joint_gap = 100mm }" },
  { "mounting", "{ across = 1134mm, columns = 4, column_gap = 20mm, joints = { 2, 3 }, joint_gap = 100mm, "
        "width_tolerance = 2mm, gap_tolerance = 1mm, end_allowance = 32mm }" },
  { "frame_points", "{ corner_east = 3m, corner_north = 4m, azimuth = 180deg, tilt = 30deg, "
        "edge_height = 0.6m, across = 1m, columns = 3, column_gap = 20mm, joints = { 1, 2 }, joint_gap = 100mm, "
        "side = 2m, rows = 1, row_gap = 20mm, at = { 0.5m, 1.5m }, runs = { { from = -50mm, to = 1m }, "
        "{ from = 2m, to = 3m } }, supports = { 0.5m, 2.5m }, support_from = 0m, support_to = 2m, "
        "rail_depth = 90mm, posts = { { offset = 0.5m, setback = 0.4m, top = 0.7m, ground = 0m }, "
        "{ offset = 0.5m, setback = 1.5m, top = 1.2m, ground = 0.1m } } }" },
  { "running", "{ places = { 0in, 72.44in, 144.88in }, mark = 0.125in }" },
  { "on_slope", "{ slope = -3%, along = 4m, above = 1m }" },
  { "true_bearing", "{ compass = 184deg, declination = -4deg }" },
  { "velocity_pressure", "{ speed = 105mph, edition = 'ASCE 7-16', exposure = 'C', height = 5ft, elevation = "
        "1080ft, topographic = 1 }" },
  { "partial_snow", "{ length = 10m, ei = 20000[N*m2], load = 200N/m, snow = 500N/m, supports = { 1m, 5m, 9m }, "
        "hinges = { 3m }, edition = 'ASCE 7-16' }" },
  { "side_frames", "{ tilt = 35deg, slope_length = 136.4in, stack = 11in, dead_modules = 2psf, dead_frame = 1psf, "
        "snow = 4psf, least = 16psf, post_e = 1200ksi, post_area = 30in2, post_inertia = 76in4, "
        "stations = { { tributary = 6ft, snow = 7ft } }, posts = { { station = 1, line = 1, at = 20%, height = 31in, "
        "depth = 60in, hinged = 0 }, { station = 1, line = 2, at = 80%, height = 77in, depth = 60in, hinged = 0 } }, "
        "braces = {}, winds = { { low = -9psf, high = -40psf } }, tell_heads = true, edition = 'ASCE 7-16' }" },
  { "row_frame", "{ push = 200lbf, post_e = 1200ksi, post_area = 30in2, post_inertia = 76in4, brace_e = 1200ksi, "
        "brace_area = 5in2, lines = { { part = 1, share = 100% } }, posts = { { line = 1, at = 0ft, top = 3ft, "
        "height = 3ft, depth = 60in, hinged = 0, pressed = 500lbf }, { line = 1, at = 6ft, top = 3ft, height = 3ft, "
        "depth = 60in, hinged = 0, pressed = 500lbf } }, braces = { { line = 1, foot = 1, head = 2, low = 6in, "
        "high = 4in } } }" },
  { "topographic", "{ shape = 'escarpment', height = 100ft, half_length = 300ft, distance = 100ft, downwind = true, "
        "above_ground = 15ft, edition = 'ASCE 7-16' }" },
  { "roof_wind", "{ velocity_pressure = 20psf, tilt = 30deg, slope_length = 4m, mean_height = 2m, "
        "edition = 'ASCE 7-16' }" },
  { "along_wind", "{ velocity_pressure = 20psf, tilt = 30deg, mean_height = 2m, length = 9m, edition = 'ASCE 7-16' }" },
  { "sign_wind", "{ velocity_pressure = 20psf, tilt = 60deg, slope_length = 2m, row_width = 9m, top = 3m, "
        "edition = 'ASCE 7-16' }" },
  { "module_wind", "{ velocity_pressure = 20psf, tilt = 30deg, slope_length = 4m, row_width = 9m, mean_height = 2m, "
        "area = 2m2, edition = 'ASCE 7-16' }" },
  { "snow_load", "{ edition = 'ASCE 7-16', ground_snow = 10psf, exposure = 'C', sheltering = 'partially exposed', "
        "risk_category = 'I', "
                 "thermal = 'open air', tilt = 35deg, slippery = true }" },
  { "rain_on_snow", "{ edition = 'ASCE 7-16', ground_snow = 10psf, tilt = 0.1deg, plan_depth = 10ft }" },
  { "snow_pile", "{ load = 10psf, plan_depth = 10ft, density = 15lb/ft3, repose = 40deg }" },
  { "ice_load", "{ thickness = 0.5in, density = 56lb/ft3 }" },
  { "combinations", "{ edition = 'ASCE 7-16', method = 'strength' }" },
  { "allowable_wind", "{ wind = 750lbf, edition = 'ASCE 7-22' }" },
  { "column_stability", "{ crushing = 1322.5psi, stiffness = 510000psi, slenderness = 25, edition = 'NDS 2018' }" },
  { "timber", "{ section = '6x6', species = 'Southern Pine', grade = 'No.2', edition = 'NDS 2018', duration = "
              "'ten minutes', wet = true, incised = false, on_flat = false, repetitive = false, "
              "moment = 1000[lbf*ft], moment_weak = 90[lbf*ft], shear = 500lbf, axial = 2000lbf, "
              "unbraced = 8ft, length_strong = 8ft, length_weak = 8ft, bearing = 900lbf, bearing_length = 3in }" },
  { "screw_withdrawal", "{ kind = 'lag screw', size = '3/8', species = 'Southern Pine', length = 6in, "
                        "thread = 3.5in, side = 1.5in, washer = 0.08in, depth = 5.5in, duration = 'ten minutes', "
                        "moisture = 'wet', end_grain = false, edition = 'NDS 2018' }" },
  { "screw_combined", "{ lateral_allowed = 200lbf, withdrawal_allowed = 900lbf, lateral = 80lbf, withdrawal = 300lbf, "
                      "edition = 'NDS 2018' }" },
  { "dowel_yield", "{ kind = 'bolt', size = '1/2', two_planes = false, main_species = 'Southern Pine', side_gravity = "
                   "0.5, main_thickness = 5.5in, side_thickness = 1.5in, main_angle = 90deg, side_angle = 0deg, "
                   "end_grain = false, duration = 'ten minutes', moisture = 'wet', one_row = true, group = 0.97, "
                   "geometry = 0.9, edition = 'NDS 2018' }" },
  { "dowel_spacing", "{ kind = 'bolt', size = '1/2', load = 'across the grain', main_bearing = 5.5in, side_bearing = "
                     "1.5in, to_end = 3in, spacing = 2in, to_edge = 2in, to_other_edge = 1in, row_spacing = 2in, "
                     "edition = 'NDS 2018' }" },
  { "group_action", "{ kind = 'bolt', size = '1/2', count = 3, spacing = 3in, main_area = 30in2, side_area = 8in2, "
                    "main_modulus = 1400000psi, side_modulus = 1600000psi, edition = 'NDS 2018' }" },
  { "head_pull", "{ species = 'Southern Pine', head = 0.75in, thickness = 1.5in, duration = 'ten minutes', "
                 "moisture = 'wet', edition = 'NDS 2018' }" },
  { "net_section", "{ kind = 'bolt', size = '1/2', width = 1.5in, depth = 7.25in, upright = false, count = 2, "
                   "to_edge = 2in, spacing = 2in, edition = 'NDS 2018' }" },
  { "plate_steel", "{ plate = 'A36', width = 3in, thickness = 0.25in, plates = 2, kind = 'bolt', size = '1/2', "
                   "holes = 2, spacing = 1in, pull = 900lbf, shear = 300lbf, moment = 200[lbf*ft], free = 7in, "
                   "bears = 500lbf, edition = 'NDS 2018' }" },
  { "beam_place", "{ load = 100plf, at = 5ft, supports = { { at = 0ft, reaction = 375lbf }, "
                  "{ at = 10ft, reaction = 1250lbf } } }" },
  { "splice_group", "{ count = 2, rows = 2, spacing = 4in, row_spacing = 1.5in, to_end = 3.5in, "
                    "moment = 90[lbf*ft], shear = 100lbf }" },
  { "foot_tie", "{ lift = 450lbf, side = 100lbf, moment = 60[lbf*ft], lift_allowed = 900lbf, side_allowed = 400lbf, "
                "moment_allowed = 300[lbf*ft] }" },
  { "tear_out", "{ shear = 272psi, tension = 1080psi, thickness = 1.5in, kind = 'bolt', size = '1/2', count = 3, "
                "rows = 2, spacing = 4in, row_spacing = 1.5in, to_end = 3in, pull = 900lbf, edition = 'NDS 2018' }" },
  { "split_across", "{ stress = 270psi, width = 1.5in, depth = 7.25in, reach = 4in, to_end = 20in, shear = 300lbf, "
                    "edition = 'NDS 2018' }" },
  { "outline", "{ shape = 'rectangle', width = 3in, depth = 2in, wall = 0.125in, corner = 0.25in }" },
  { "slope_loads", "{ tilt = 30deg, area = 10m2, weight = 2kN, weight_least = 1kN, snow = 20psf, push = 30psf, "
                   "lift = 40psf, edition = 'ASCE 7-16' }" },
  { "crossing_loads", "{ tilt = 30deg, area = 10m2, weight = 2kN, weight_least = 1kN, snow = 20psf, push = 30psf, "
                      "lift = 40psf, least = 16psf, carried = 1m2, edition = 'ASCE 7-16' }" },
  { "rail_share", "{ side = 68in, rows = 2, row_gap = 1in, rails = { 15in, 50in, 85in, 120in } }" },
  { "metal_section", "{ section = 'pipe 2 std' }" },
  { "metal", "{ section = 'pipe 2 std', material = 'A53 Gr B', moment = 400[lbf*ft], axial = 2000lbf, "
             "length = 6ft }" },
  { "deflection_limit", "{ member = 'roof', load = 'wind', edition = 'IBC 2021' }" },
  { "ground_motion", "{ isolated = true, edition = 'IBC 2021' }" },
  { "head_motion", "{ motion = 0.5in, height = 77in, depth = 60in }" },
  { "embed_neglecting", "{ lateral = 448lbf, height = 77in, width = 18in, bearing = 150psf/ft, isolated = true, "
        "neglect = 12in, from_grade = false, provided = 6ft, edition = 'IBC 2021' }" },
  { "embed_moment", "{ depth = 60in, width = 18in, bearing = 150psf/ft, isolated = true, neglect = 12in, "
        "from_grade = true, edition = 'IBC 2021' }" },
  { "buried_moment", "{ lateral = 300lbf, moment = 1800[lbf*ft], depth = 6ft, width = 4in, bearing = 150psf/ft, "
        "tested = 400lbf, tested_at = 3ft, neglect = 1ft, edition = 'IBC 2021' }" },
  { "overturning", "{ forces = { { up = 700N, side = -1500N, turning = 10000[N*m] } }, "
        "weights = { { weight = 1kN, at = 0.8m } }, posts = { { at = 2m, holds = 2500N, bends = 900[N*m], "
        "arm = 0.9m } }, front = 0m, back = 2m, front_above = 0m, back_above = 0.5m, edition = 'ASCE 7-16' }" },
  { "soil_bearing", "{ pressed = 1800lbf, weight = 400lbf, width = 18in, soil_class = 'sand', edition = 'IBC 2021' }" },
  { "friction_hold", "{ width = 18in, depth = 66in, neglect = 18in, soil_class = 'sand', edition = 'IBC 2021' }" },
  { "bell_hold", "{ width = 24in, depth = 5ft, neglect = 1ft, angle = 20deg, firmness = 'loose or wet', "
        "dry_to = 3ft }" },
  { "soil_sliding", "{ soil_class = 'clay', edition = 'IBC 2021' }" },
  { "pier_spacing", "{ diameter = 18in, post_width = 5.5in, spacing = 8ft }" },
  { "piers_apart", "{ of = 1, piers = { { east = 0ft, north = 0ft, diameter = 18in, post_width = 5.5in, rack = 1 }, "
    "{ east = 6ft, north = 1ft, diameter = 24in, post_width = 5.5in, rack = 2 } } }" },
  { "frost_grip", "{ width = 16in, square = false, depth = 60in, frost = 48in, face = 'steel', frame = 200lbf, "
    "post = 60lbf, concrete = 860lbf }" },
  { "ground_uplift", "{ wind_uplift = 1000lbf, dead = 100lbf, post = 80lbf, post_volume = 1ft3, concrete = 8ft3, "
        "length = 5ft, keyed = true, dry_to = 2ft, friction = 500lbf, edition = 'ASCE 7-16' }" },
  { "wind_on_block", "{ tilt = 30deg, slope_length = 4m, stack = 200mm, lower_edge = 1m, middle = 1.6m, "
        "tributary = 2m, least = 700Pa, winds = { { low = -500Pa, high = -700Pa } } }" },
  { "wind_on_faces", "{ forces = { { up = 900N, side = -500N, turning = -800[N*m] } }, pressure = 800Pa, width = 1m, "
                     "height = 500mm, raise = 25mm, strips = { { from = 0m, to = 1m, pressure = 900Pa } } }" },
  { "heads_on_block", "{ heads = { { up = 900N, side = 500N, at = -0.8m, height = 1m }, "
        "{ up = 700N, side = 400N, at = 0.8m, height = 2m, moment = 30[N*m] } } }" },
  { "ballast", "{ forces = { { up = 900lbf, side = 500lbf, turning = 550[lbf*ft] } }, "
        "weights = { { weight = 2000lbf, at = 0ft } }, length = 6ft, adhesion = 130psf, area = 4ft2, most = 0.5, "
        "edition = 'ASCE 7-16' }" },
  { "block_bearing", "{ forces = { { up = -3kN, side = 2kN, turning = 4000[N*m] } }, weights = { { weight = 2kN, "
        "at = 0.1m }, { weight = 12kN, most = 12.5kN, at = 0m } }, snow = 5kN, snow_at = 0.1m, length = 3m, "
        "width = 0.8m, allowable = 70kPa, edition = 'ASCE 7-16' }" },
  { "screw_anchor", "{ axial = 600lbf, lateral = 300lbf, pulls = { 3000lbf, 2400lbf }, sideways = 400lbf, "
        "helix = 8in, top_depth = 40in, frost = 24in, edition = 'IBC 2021' }" },
  { "pier", "{ hole_diameter = 14in, hole_depth = 36in, gravel = 6in, post_width = 5.5in, waste = 10% }" },
  { "bag_yield", "{ bag_mass = 80lb }" },
  { "bags", "{ concrete = 2.3621ft3, yield = 0.6ft3 }" },
  { "bell", "{ hole_diameter = 14in, bell = 30in, hole_depth = 48in, gravel = 6in }" },
  { "dressed", "{ section = '6x6' }" },
  { "lumber", "{ section = '6x6', length = 12ft, edition = 'NDS 2018' }" },
  { "soil", "{ soil_class = 'sand', edition = 'IBC 2021' }" },
  { "augers", "{ least = 13in }" },
  { "cold_voltage", "{ voc = 39.2V, coefficient = -0.25%/K, series = 4, coldest = -16degC, limit = 250V, "
      "edition = 'NEC 2023' }" },
  { "cold_voltage_table", "{ voc = 37V, series = 13, coldest = -24degC, limit = 600V, edition = 'NEC 2023' }" },
  { "hot_voltage", "{ vmp = 32.8V, coefficient = -0.3%/K, series = 4, hottest_air = 36degC, cell_rise = 30K }" },
  { "array_current", "{ isc = 13.9A, imp = 13.11A, parallel = 2, edition = 'NEC 2023' }" },
  { "string_fuse", "{ isc = 13.9A, parallel = 3, module_fuse = 25A, other_sources = 0A, edition = 'NEC 2023' }" },
  { "output_current", "{ power = 3440W, voltage = 51.2V, edition = 'NEC 2023' }" },
  { "building_voltage", "{ building = 'dwelling', edition = 'NEC 2023' }" },
  { "facing", "{ bearing = 184deg, latitude = 36deg }" },
  { "overhead", "{ height = 12ft }" },
  { "hole", "{ post_width = 5.5in }" },
  { "insulation", "{ type = 'THWN-2', edition = 'NEC 2023' }" },
  { "ampacity", "{ material = 'copper', size = '6', insulation = 'THWN-2', terminal = '75 C', ambient = 30degC, "
        "conductors = 2, "
                "maximum = 34.75A, required = 43.4375A, edition = 'NEC 2023' }" },
  { "conductor", "{ material = 'copper', size = '6', stranding = 'stranded', edition = 'NEC 2023' }" },
  { "overcurrent", "{ required = 43.4375A, ampacity = 65A, material = 'copper', size = '6', device = 'breaker', "
        "edition = 'NEC 2023' }" },
  { "grounding_conductor", "{ device = 50A, material = 'copper', edition = 'NEC 2023' }" },
  { "grounding_enlarged",
    "{ device = 300A, material = 'copper', edition = 'NEC 2023', least_size = '250', size = '350' }" },
  { "voltage_drop", "{ length = 104ft, current = 26.22A, voltage = 131.2V, material = 'copper', size = '6', "
        "stranding = 'stranded', "
                    "conductor_temperature = 75degC, edition = 'NEC 2023' }" },
  { "raceway_fill", "{ kind = 'PVC 40', trade_size = '1', conductors = { { size = '6', count = 2, insulation = "
        "'THWN-2' }, { size = '10', count = 1, bare = true } }, edition = 'NEC 2023' }" },
  { "bends", "{ angles = { 90deg, 90deg, 45deg }, edition = 'NEC 2023' }" },
  { "cover", "{ method = 'PVC 40', location = 'open ground', edition = 'NEC 2023' }" },
  { "ribbon", "{ edition = 'NEC 2023' }" },
  { "cut_stock", "{ pieces = { 67in, 114in, 68in }, lengths = { 8ft, 10ft }, prices = { $28, $36 }, kerf = 0.125in }" },
  { "spools", "{ cuts = { 114ft, 114ft }, lengths = { 125ft, 500ft }, prices = { $1.05/ft, $0.95/ft } }" },
  { "extended", "{ price = $6.40, quantity = 24 }" },
};

static const struct sl_op *op_named(const char *name) {
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++)
      if (strcmp(op->name, name) == 0) return op;
  return NULL;
}

/* A state with the row's table at 1. */
static lua_State *open_row(const struct good *g) {
  char script[1024];
  snprintf(script, sizeof script, "print(%s)\n", g->text);
  const struct job_row row = { g->op, "host.print = function(v) out = v end", script, NULL, NULL, NULL, 0 };
  job_write("job.sline", JOB, script);
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  lua_pushcfunction(L, job_body);
  lua_pushlightuserdata(L, (void *)(uintptr_t)&row);
  if (sl_host_call(L, 1, 0)) {
    struct sl_message m;
    sl_error_message(L, -1, &m);
    fail_msg("%s: error[%s] %s", g->op, m.code, m.text);
  }
  lua_settop(L, 0);
  lua_getglobal(L, "out");
  assert_true(lua_istable(L, 1));
  return L;
}

static void push_copy(lua_State *L, int idx) {
  lua_newtable(L);
  for (lua_pushnil(L); lua_next(L, idx);) {
    lua_pushvalue(L, -2);
    lua_insert(L, -2);
    lua_rawset(L, -4);
  }
}

/* Calls the primitive with the table on top; true: its result is on top, else the error. */
static bool call(lua_State *L, const char *op) {
  lua_getglobal(L, "calc");
  lua_getfield(L, -1, op);
  lua_remove(L, -2);
  lua_insert(L, -2);
  return sl_host_call(L, 1, 1) == LUA_OK;
}

/* Where a field is: of the inputs, or of row `item` of their list `list`. */
struct spot { const struct sl_op *op; const struct sl_field *list; int item; };

/* The table on top is refused, with these in the code, the message and the help; the message says where. */
static void refuses(lua_State *L, const struct spot *spot, const char *code, const char *part, const char *help) {
  char where[200];
  if (spot->list) snprintf(where, sizeof where, "%s: %s[%d]: ", spot->op->name, spot->list->name, spot->item);
  else snprintf(where, sizeof where, "%s", spot->op->name);
  bool fine = call(L, spot->op->name);
  struct sl_message m = { .code = "", .text = "" };
  if (!fine) sl_error_message(L, -1, &m);
  if (fine || strcmp(m.code, code) != 0 || strncmp(m.text, where, strlen(where)) != 0 || !strstr(m.text, part) ||
      (help && (!m.help || !strstr(m.help, help))))
    fail_msg("%s: %s[%s] %s (%s); wanted [%s] %s (%s)", where, fine ? "no error" : "error", m.code, m.text,
             m.help ? m.help : "-", code, part, help ? help : "-");
  lua_settop(L, 1);
}

/* ---- what goes in and comes out, apart from the binding's own reading -------------------------------------------- */

static double number_at_top(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, -1);
  return q ? q->si : lua_tonumber(L, -1);
}

/* What the items of lists lie in: one primitive's at a time. */
static struct { char bytes[4096]; size_t used; } pool;

static char *pool_take(size_t bytes) {
  char *at = pool.bytes + pool.used;
  pool.used += (bytes + 15) / 16 * 16;
  assert_true(pool.used <= sizeof pool.bytes);
  return at;
}

static void fill_fields(lua_State *L, int table, const struct sl_field *fields, size_t nfields, char *in) {
  for (size_t i = 0; i < nfields; i++) {
    const struct sl_field *f = &fields[i];
    void *m = in + f->offset;
    const int type = lua_getfield(L, table, f->name);
    if (type == LUA_TNIL) {
      if (f->kind == SL_FIELD_REAL) *(double *)m = NAN;
    } else if (f->kind == SL_FIELD_REAL) *(double *)m = number_at_top(L);
    else if (f->kind == SL_FIELD_COUNT) *(int *)m = (int)lua_tointeger(L, -1);
    else if (f->kind == SL_FIELD_FLAG) *(bool *)m = lua_toboolean(L, -1);
    else if (f->kind == SL_FIELD_TEXT) snprintf(m, f->size, "%s", lua_tostring(L, -1));
    else if (f->kind == SL_FIELD_CHOICE) {
      int choice = 0;
      while (strcmp(f->choices[choice], lua_tostring(L, -1)) != 0) choice++;
      *(int *)m = choice;
    } else {
      const size_t n = (size_t)lua_rawlen(L, -1);
      char *items = pool_take(n * f->size);
      memset(items, 0, n * f->size);
      for (size_t k = 0; k < n; k++) {
        lua_rawgeti(L, -1, (lua_Integer)k + 1);
        if (f->kind == SL_FIELD_LIST) ((double *)(void *)items)[k] = number_at_top(L);
        else fill_fields(L, lua_gettop(L), f->fields, f->nfields, items + k * f->size);
        lua_pop(L, 1);
      }
      memcpy(m, &items, sizeof items);
      memcpy(in + f->count, &n, sizeof n);
    }
    lua_pop(L, 1);
  }
}

static void fill(lua_State *L, const struct sl_op *op, char *in) {
  pool.used = 0;
  fill_fields(L, 1, op->in, op->nin, in);
}

static void same_real(const char *op, const char *field, double a, double b) {
  if (memcmp(&a, &b, sizeof a) != 0) fail_msg("%s.%s: %.17g through the binding, %.17g directly", op, field, a, b);
}

/* The result on top, or a row of it, against the struct of the direct call. */
static int read_member(lua_State *L) {
  lua_gettable(L, 1);
  return 1;
}
/* Whether the result on top tells that it has no such member, which is what its absence reads as. */
static bool has_none(lua_State *L, const char *name) {
  struct sl_message m = { .code = "" };
  lua_pushcfunction(L, read_member);
  lua_pushvalue(L, -2);
  lua_pushstring(L, name);
  const bool reads = sl_host_call(L, 2, 1) == LUA_OK;
  if (!reads) sl_error_message(L, -1, &m);
  lua_pop(L, 1);
  return !reads && strcmp(m.code, "C007") == 0;
}

static void same_out(lua_State *L, const char *op, const struct sl_field *fields, size_t nfields, const char *out) {
  for (size_t i = 0; i < nfields; i++) {
    const struct sl_field *f = &fields[i];
    const void *m = out + f->offset;
    if (f->kind == SL_FIELD_REAL && f->optional && isnan(*(const double *)m)) {
      if (!has_none(L, f->name)) fail_msg("%s gives no '%s', which can be read", op, f->name);
      continue;
    }
    lua_getfield(L, -1, f->name);
    switch (f->kind) {
    case SL_FIELD_REAL: {
      const struct sl_quantity *q = sl_quantity_at(L, -1);
      same_real(op, f->name, number_at_top(L), *(const double *)m);
      assert_int_equal(q ? q->dims.w : 0, sl_dim_dims(f->dim).w);
      assert_int_equal(q && q->point, f->dim == SL_TEMPERATURE);
      break;
    }
    case SL_FIELD_COUNT: assert_int_equal(lua_tointeger(L, -1), *(const int *)m); assert_true(lua_isinteger(L, -1));
          break;
    case SL_FIELD_FLAG: assert_int_equal(lua_toboolean(L, -1), *(const bool *)m); assert_true(lua_isboolean(L, -1));
          break;
    case SL_FIELD_CHOICE: assert_string_equal(lua_tostring(L, -1), f->choices[*(const int *)m]); break;
    case SL_FIELD_TEXT: assert_string_equal(lua_tostring(L, -1), m); break;
    case SL_FIELD_LIST: case SL_FIELD_ROWS: {
      size_t n;
      const char *items = op_items(f, out, &n);
      assert_int_equal(luaL_len(L, -1), n);
      for (size_t k = 0; k < n; k++) {
        lua_geti(L, -1, (lua_Integer)k + 1);
        const char *item = items + k * f->size;
        if (f->kind == SL_FIELD_LIST) same_real(op, f->name, number_at_top(L), *(const double *)(const void *)item);
        else same_out(L, op, f->fields, f->nfields, item);
        lua_pop(L, 1);
      }
      lua_geti(L, -1, (lua_Integer)n + 1);
      assert_true(lua_isnil(L, -1));
      lua_pop(L, 1);
      break;
    }
    }
    lua_pop(L, 1);
  }
}

static void same_text(lua_State *L, const char *key, const char *want) {
  lua_getfield(L, -1, key);
  assert_string_equal(lua_tostring(L, -1), want);
  lua_pop(L, 1);
}

/* The worked sheet of the result on top, row by row. */
static void same_sheet(lua_State *L, const struct sl_op *op, const struct sl_sheet *sheet) {
  static const char *const kinds[] = { "given", "table", "step", "word", "heading", "lines", "line", "end" };
  lua_getglobal(L, "worked_sheet");
  lua_pushvalue(L, -2);
  assert_int_equal(sl_host_call(L, 1, 2), LUA_OK);
  assert_string_equal(lua_tostring(L, -2), op->name);
  assert_int_equal(lua_rawlen(L, -1), sheet->n);
  for (size_t i = 0; i < sheet->n; i++) {
    const struct sl_row *r = &sheet->row[i];
    lua_rawgeti(L, -1, (lua_Integer)i + 1);
    same_text(L, "kind", kinds[r->kind]);
    same_text(L, "symbol", r->symbol);
    same_text(L, "text", r->text);
    same_text(L, "cite", r->cite);
    same_text(L, "basis", sl_basis_name(r->basis));
    same_text(L, "dim", sl_dim_name(r->dim));
    lua_getfield(L, -1, "value");
    same_real(op->name, r->symbol, number_at_top(L), r->value);
    lua_getfield(L, -2, "item");
    assert_int_equal(lua_tointeger(L, -1), r->item);
    lua_pop(L, 3);
  }
  lua_pop(L, 2);
}

/* Whatever nothing holds any more is collected and written over. */
static void write_over(lua_State *L) {
  lua_gc(L, LUA_GCCOLLECT);
  for (size_t round = 0; round < 4; round++)
    for (size_t size = 8; size <= 4096; size += 8) {
      memset(lua_newuserdatauv(L, size, 0), 0x5a, size);
      lua_pop(L, 1);
    }
}

static int h_write_over(lua_State *L) {
  write_over(L);
  return 0;
}

/* Empties the lists that the call read: the result has its own. */
static void spoil_lists(lua_State *L, const struct sl_op *op) {
  for (size_t i = 0; i < op->nin; i++) {
    if (op->in[i].kind < SL_FIELD_LIST) continue;
    lua_getfield(L, 1, op->in[i].name);
    for (lua_Integer k = luaL_len(L, -1); k > 0; k--) {
      lua_rawgeti(L, -1, k);
      for (size_t f = 0; f < op->in[i].nfields; f++) {
        lua_pushboolean(L, 0);
        lua_setfield(L, -2, op->in[i].fields[f].name);
      }
      lua_pop(L, 1);
      lua_pushnil(L);
      lua_rawseti(L, -2, k);
    }
    lua_pop(L, 1);
  }
  write_over(L);
}

static void is_the_direct_call(void **state) {
  const struct good *g = *state;
  const struct sl_op *op = op_named(g->op);
  SHEET(sheet);
  char *in = calloc(1, op->in_size), *out = calloc(1, op->out_size);
  assert_true(in && out);
  lua_State *L = open_row(g);
  fill(L, op, in);
  assert_int_equal(op_call(op, in, out, &sheet), SL_OK);
  check_sheet(&sheet);
  push_copy(L, 1);
  if (!call(L, op->name)) {
    struct sl_message m;
    sl_error_message(L, -1, &m);
    fail_msg("%s: %s", op->name, m.text);
  }
  spoil_lists(L, op);
  same_out(L, op->name, op->out, op->nout, out);
  same_sheet(L, op, &sheet);
  same_out(L, op->name, op->out, op->nout, out);                 /* working it again changed nothing */
  sl_host_close(L);
  free(in);
  free(out);
}

/* ---- what is refused --------------------------------------------------------------------------------------------- */

/* (value on top) -> a copy of the good call in which the field has it. */
static void push_set(lua_State *L, const struct spot *spot, const char *field) {
  push_copy(L, 1);
  if (!spot->list) {
    lua_insert(L, -2);
    lua_setfield(L, -2, field);
    return;
  }
  lua_getfield(L, -1, spot->list->name);
  push_copy(L, lua_gettop(L));                                   /* value, call, list, its copy */
  lua_remove(L, -2);
  lua_geti(L, -1, spot->item);
  push_copy(L, lua_gettop(L));                                   /* value, call, list, row, its copy */
  lua_remove(L, -2);
  lua_pushvalue(L, -4);
  lua_setfield(L, -2, field);
  lua_seti(L, -2, spot->item);
  lua_setfield(L, -2, spot->list->name);
  lua_remove(L, -2);
}

static void push_wrong(lua_State *L, enum sl_dim dim) {
  const enum sl_dim other = dim == SL_MASS ? SL_CURRENT : SL_MASS;
  sl_quantity_push(L, (struct sl_quantity){ .si = 1, .dims = sl_dim_dims(other) });
}

static void refuse_fields(lua_State *L, const struct spot *spot, const struct sl_field *fields, size_t n);

static void refuse_field(lua_State *L, const struct spot *spot, const struct sl_field *f) {
  char named[80], near[80];
  snprintf(named, sizeof named, "'%s'", f->name);
  if (!f->optional) {
    lua_pushnil(L);
    push_set(L, spot, f->name);
    refuses(L, spot, "C003", named, f->help);
  }
  snprintf(near, sizeof near, "%sx", f->name);                   /* misspelt, beside the right one */
  lua_pushboolean(L, 1);
  push_set(L, spot, near);
  snprintf(near, sizeof near, "did you mean '%s'?", f->name);
  refuses(L, spot, "C002", "no field", near);

  switch (f->kind) {
  case SL_FIELD_REAL:
    push_wrong(L, f->dim);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", named, NULL);
    if (sl_dim_dims(f->dim).w != 0) {
      lua_pushnumber(L, 3);
      push_set(L, spot, f->name);
      refuses(L, spot, "C001", "got 3 (a bare number)", NULL);
    }
    lua_pushliteral(L, "3");
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "got the text", NULL);
    break;
  case SL_FIELD_COUNT:
    lua_pushnumber(L, 1.5);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a whole number (like 4), got 1.5", NULL);
    lua_pushliteral(L, "2");
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "got the text \"2\"", NULL);
    lua_pushinteger(L, (lua_Integer)1 << 40);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", named, NULL);
    break;
  case SL_FIELD_FLAG:
    lua_pushnumber(L, 1);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a true or false, got 1", NULL);
    break;
  case SL_FIELD_CHOICE:
    for (int i = 0; f->choices[i]; i++) {
      lua_pushliteral(L, "no such");
      push_set(L, spot, f->name);
      refuses(L, spot, "C001", f->choices[i], NULL);
    }
    lua_pushlstring(L, f->choices[0], strlen(f->choices[0]) + 1);   /* a NUL behind it */
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "is one of", NULL);
    lua_pushnumber(L, 1);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "is one of", NULL);
    break;
  case SL_FIELD_TEXT:
    lua_pushnumber(L, 6);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a text (like \"6\"), got 6", NULL);
    lua_pushlstring(L, "6\0x", 3);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a shorter text", NULL);
    char many[200];
    memset(many, '6', sizeof many);
    lua_pushlstring(L, many, sizeof many);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a shorter text", NULL);
    break;
  case SL_FIELD_LIST:
    lua_pushnumber(L, 6);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a list, got 6", NULL);
    lua_newtable(L);
    push_wrong(L, f->dim);
    lua_rawseti(L, -2, 1);
    push_set(L, spot, f->name);
    snprintf(named, sizeof named, "'%s[1]' needs", f->name);
    refuses(L, spot, "C001", named, NULL);
    break;
  case SL_FIELD_ROWS: {
    lua_pushnumber(L, 6);
    push_set(L, spot, f->name);
    refuses(L, spot, "C001", "needs a list of tables, got 6", NULL);
    lua_getfield(L, 1, f->name);
    const int rows = (int)lua_rawlen(L, -1);
    lua_settop(L, 1);
    for (int i = 1; i <= rows; i++) {
      lua_getfield(L, 1, f->name);
      push_copy(L, 2);
      lua_remove(L, 2);
      lua_pushnumber(L, 7);
      lua_rawseti(L, -2, i);
      push_set(L, spot, f->name);
      snprintf(named, sizeof named, "'%s[%d]' needs a table, got 7", f->name, i);
      refuses(L, spot, "C001", named, NULL);
      refuse_fields(L, &(struct spot){ spot->op, f, i }, f->fields, f->nfields);
    }
    break;
  }
  }
}

/* Two values of the spot swapped. */
static void refuse_swapped(lua_State *L, const struct spot *spot, const char *a, const char *b) {
  char help[160];
  snprintf(help, sizeof help, "are '%s' and '%s' swapped?", a, b);
  if (spot->list) {
    lua_getfield(L, 1, spot->list->name);
    lua_geti(L, -1, spot->item);
    lua_remove(L, -2);
  } else lua_pushvalue(L, 1);
  lua_getfield(L, 2, a);                                         /* the spot's table is at 2 */
  push_set(L, spot, b);                                          /* 3: a call with b made wrong */
  lua_replace(L, 1);
  lua_getfield(L, 2, b);
  push_set(L, spot, a);
  lua_remove(L, 2);
  refuses(L, spot, "C001", a, help);
}

static void refuse_fields(lua_State *L, const struct spot *spot, const struct sl_field *fields, size_t n) {
  for (size_t i = 0; i < n; i++) refuse_field(L, spot, &fields[i]);
  for (size_t i = 0; i < n; i++)
    for (size_t k = i + 1; k < n; k++) {
      const struct sl_field *a = &fields[i], *b = &fields[k];
      if (a->kind != SL_FIELD_REAL || b->kind != SL_FIELD_REAL || a->optional || b->optional) continue;
      if (a->dim == b->dim || sl_dim_dims(a->dim).w == 0 || sl_dim_dims(b->dim).w == 0) continue;
      lua_pushvalue(L, 1);                                       /* kept in the registry: the call at 1 is replaced */
      const int kept = luaL_ref(L, LUA_REGISTRYINDEX);
      refuse_swapped(L, spot, a->name, b->name);
      lua_rawgeti(L, LUA_REGISTRYINDEX, kept);
      lua_replace(L, 1);
      luaL_unref(L, LUA_REGISTRYINDEX, kept);
    }
  lua_pushboolean(L, 1);
  push_set(L, spot, "zzzzzzzz");
  refuses(L, spot, "C002", "no field 'zzzzzzzz'", NULL);
}

static void refuses_what_is_wrong(void **state) {
  const struct good *g = *state;
  const struct spot spot = { op_named(g->op), NULL, 0 };
  lua_State *L = open_row(g);
  refuse_fields(L, &spot, spot.op->in, spot.op->nin);
  push_copy(L, 1);
  lua_pushboolean(L, 1);
  lua_rawseti(L, -2, 1);
  refuses(L, &spot, "C002", "every value needs a name", NULL);
  lua_pushnumber(L, 5);
  refuses(L, &spot, "C001", "needs its inputs in braces", NULL);
  sl_host_close(L);
}

/* ---- what comes out is a number ---------------------------------------------------------------------------------- */

/* The first output of a direct call that is none, or NULL.  An optional one may be absent, never without end. */
static const char *no_number(const struct sl_field *fields, size_t nfields, const char *out) {
  for (size_t i = 0; i < nfields; i++) {
    const struct sl_field *f = &fields[i];
    const double *m = (const void *)(out + f->offset);
    if (f->kind == SL_FIELD_REAL && !isfinite(*m) && !(f->optional && isnan(*m))) return f->name;
    if (f->kind < SL_FIELD_LIST) continue;
    size_t n;
    const char *items = op_items(f, out, &n);
    for (size_t k = 0; k < n; k++)
      if (f->kind == SL_FIELD_LIST ? !isfinite(((const double *)(const void *)items)[k])
                                   : no_number(f->fields, f->nfields, items + k * f->size) != NULL) return f->name;
  }
  return NULL;
}

static const double extremes[] = { 1.7976931348623157e308, 1e200, 1e155, 1e100, 1e16, 1e-16, 1e-100, 1e-155, 1e-200,
                                   2.2250738585072014e-308, 5e-324, 0 };
enum { EXTREMES = sizeof extremes / sizeof *extremes, MOST_NUMBERS = 64 };

/* A number that goes in: where it stands; all items of a list of numbers as one; those of a row each. */
struct number { const struct sl_field *f; char *at; size_t n; };

static size_t numbers_of(const struct sl_field *fields, size_t nfields, char *in, struct number *to, size_t n) {
  for (size_t i = 0; i < nfields; i++) {
    const struct sl_field *f = &fields[i];
    size_t items = 1;
    char *at = in + f->offset;
    if (f->kind >= SL_FIELD_LIST) at = op_items(f, in, &items);
    assert_true(n < MOST_NUMBERS);
    if (f->kind == SL_FIELD_ROWS)
      for (size_t k = 0; k < items; k++) n = numbers_of(f->fields, f->nfields, at + k * f->size, to, n);
    else if (f->kind == SL_FIELD_REAL || f->kind == SL_FIELD_LIST || f->kind == SL_FIELD_COUNT)
      to[n++] = (struct number){ f, at, items };
  }
  return n;
}

static size_t choices_of(const struct number *number) {
  return number->f->kind == SL_FIELD_COUNT ? 2 : 2 * EXTREMES;
}

static void put_extreme(const struct number *number, size_t which) {
  if (number->f->kind == SL_FIELD_COUNT) *(int *)(void *)number->at = which ? 1 : 1000000;
  else
    for (size_t k = 0; k < number->n; k++)
      ((double *)(void *)number->at)[k] = (which % 2 ? -1 : 1) * extremes[which / 2];
}

/* Every pair of inputs at the ends of what a double can hold: a refusal, or numbers. */
static void gives_numbers_or_refuses(void **state) {
  const struct good *g = *state;
  const struct sl_op *op = op_named(g->op);
  static char kept[sizeof pool.bytes];
  struct number numbers[MOST_NUMBERS];
  char *good = calloc(1, op->in_size), *in = calloc(1, op->in_size), *out = calloc(1, op->out_size);
  assert_true(good && in && out);
  lua_State *L = open_row(g);
  fill(L, op, good);
  sl_host_close(L);
  memcpy(in, good, op->in_size);
  memcpy(kept, pool.bytes, sizeof kept);
  const size_t n = numbers_of(op->in, op->nin, in, numbers, 0);
  for (size_t a = 0; a < n; a++)
    for (size_t b = a; b < n; b++)
      for (size_t x = 0; x < choices_of(&numbers[a]); x++)
        for (size_t y = 0; y < (a == b ? 1 : choices_of(&numbers[b])); y++) {
          memcpy(in, good, op->in_size);
          memcpy(pool.bytes, kept, sizeof kept);
          put_extreme(&numbers[a], x);
          if (b != a) put_extreme(&numbers[b], y);
          memset(out, 0, op->out_size);
          if (op_call(op, in, out, NULL) != SL_OK) continue;
          const char *bad = no_number(op->out, op->nout, out);
          if (bad) fail_msg("%s: '%s' is no number, with %s %zu and %s %zu", op->name, bad, numbers[a].f->name, x,
                numbers[b].f->name, y);
        }
  free(good);
  free(in);
  free(out);
}

/* ---- rows, with a primitive whose rows have fields of every kind ------------------------------------------------- */

static const char *const picks[] = { "one", "two", NULL };
struct sl_cart_row { double width, load, spare; int count, pick; bool heavy; char text[4]; };
struct sl_cart_in { const struct sl_cart_row *rows; size_t nrows; double width; };
struct sl_cart_out { double total; const struct sl_cart_row *rows; size_t nrows; };
static const struct sl_field cart_row[] = {
  SL_REAL(struct sl_cart_row, width, SL_LENGTH, "how wide"), SL_REAL(struct sl_cart_row, load, SL_FORCE, "how heavy"),
  SL_REAL_OPT(struct sl_cart_row, spare, SL_LENGTH, "what is left"), SL_COUNT(struct sl_cart_row, count, "how many"),
  SL_CHOICE(struct sl_cart_row, pick, picks, "which"), SL_FLAG(struct sl_cart_row, heavy, "whether"),
  SL_TEXT(struct sl_cart_row, text, "what"),
};
static const struct sl_field cart_in[] = {
  SL_ROWS(struct sl_cart_in, rows, nrows, struct sl_cart_row, cart_row, "all"),
  SL_REAL(struct sl_cart_in, width, SL_LENGTH, "of the whole"),
};
static const struct sl_field cart_out[] = {
  SL_REAL(struct sl_cart_out, total, SL_LENGTH, "of the widths"),
  SL_ROWS(struct sl_cart_out, rows, nrows, struct sl_cart_row, cart_row, "as they came in"),
};
static enum sl_status sl_cart(const struct sl_cart_in *in, struct sl_cart_out *out, struct sl_sheet *sh) {
  *out = (struct sl_cart_out){ .rows = in->rows, .nrows = in->nrows };
  for (size_t i = 0; i < in->nrows; i++) {
    if (!(in->rows[i].width > 0)) {
      *sh = (struct sl_sheet){ .fault = { .member = "rows[i].width", .item = i + 1, .text = "must be greater than 0",
                                          .cite = "", .value = in->rows[i].width, .limit = NAN, .dim = SL_LENGTH } };
      return SL_BAD_INPUT;
    }
    if (strcmp(in->rows[i].text, "no") == 0) {
      *sh = (struct sl_sheet){ .fault = { .member = "rows[i].text", .item = i + 1, .text = "is none", .cite = "page 1",
                                          .value = NAN, .limit = NAN } };
      return SL_NO_ROW;
    }
    out->total += in->rows[i].width;
  }
  return SL_OK;
}
SL_OP_CALL(cart)
static const struct sl_op cart = SL_OP(cart, "adds up");

/* A state in which calc has that primitive alone, the good call at 1. */
static lua_State *open_cart(void) {
  static const struct good good = { "cart",
    "{ width = 9m, rows = { { width = 1m, load = 2lbf, count = 3, pick = 'one', heavy = false, text = 'a' }, "
    "{ width = 2m, load = 1lbf, spare = 1ft, count = 1, pick = 'two', heavy = true, text = 'abc' } } }" };
  lua_State *L = open_row(&good);
  lua_newtable(L);
  sl_bind_push(L, &cart);
  lua_setfield(L, -2, "cart");
  lua_setglobal(L, "calc");
  return L;
}

static void rows_are_looked_at(void **state) {
  (void)state;
  lua_State *L = open_cart();
  refuse_fields(L, &(struct spot){ &cart, NULL, 0 }, cart_in, sizeof cart_in / sizeof *cart_in);
  sl_host_close(L);
}

static const struct { const char *script, *want; } carts[] = {
  { "local w = calc.cart(t) return host.format(w.total, 'm') .. #w.rows .. w.rows[2].text .. "
    "tostring(w.rows[2].heavy) .. w.rows[1].pick .. w.rows[1].count .. tostring(w.rows[3]) .. "
    "tostring(w.rows[0]) .. tostring(w.rows[1.5])",
    "3 m2abctrueone3nilnilnil" },
  { "local s = '' for i, r in ipairs(calc.cart(t).rows) do s = s .. i .. r.text end return s", "1a2abc" },
  { "return host.format(calc.cart(t).rows[2].spare, 'ft')", "1 ft" },
  { "return calc.cart(t).rows[1].spare", "C007 cart gives no 'spare' here: what is left" },
  { "return calc.cart(t).rows[1].widht", "C002 cart gives no 'widht'" },
  { "return calc.cart(t).rows.width", "C002 cart gives a list 'rows': its rows have numbers, as in rows[1].width" },
  { "calc.cart(t).rows[1] = 1", "C008 a worked result cannot be changed" },
  { "calc.cart(t).rows[1].width = 1", "C008 a worked result cannot be changed" },
  { "local r = calc.cart(t).rows[2] t = nil write_over() return r.text", "abc" },
  { "t.rows[2].width = -t.rows[2].width return calc.cart(t)",
    "C004 cart: 'rows[2].width' must be greater than 0; got -78.7402 in" },
  { "t.rows[2].text = 'no' return calc.cart(t)", "C006 cart: 'rows[2].text' is none; got \"no\" \xe2\x80\x94 page 1" },
  { "t.rows[1] = setmetatable({ width = t.rows[2].width }, { __index = t.rows[1] }) return "
    "host.format(calc.cart(t).total, 'm')", "4 m" },
  { "t.rows[1] = setmetatable({ widht = 1 }, { __index = t.rows[1] }) return calc.cart(t)",
    "C002 cart: rows[1]: no field 'widht'" },
  { "t.rows[2][1] = 3 return calc.cart(t)", "C002 cart: rows[2]: every value needs a name, as in `width = ...`" },
  { "t.rows = {} return host.format(calc.cart(t).total, 'm') .. #calc.cart(t).rows", "0 m0" },
  { "t.rows = setmetatable({}, { __len = function() return 3 end, __index = function() return t.one end }) "
    "t.one, t.one = nil, nil return calc.cart(t)", "C001 cart: 'rows[1]' needs a table, got nothing" },
  { "local rows = {} for i = 1, 3000 do rows[i] = t.rows[1] end return host.format(calc.cart { width = t.width, rows = "
    "rows }.total, 'm')", "3000 m" },
};

static void rows_are_read_in_place(void **state) {
  (void)state;
  for (size_t i = 0; i < sizeof carts / sizeof *carts; i++) {
    lua_State *L = open_cart();
    char said[400];
    lua_pushvalue(L, 1);
    lua_setglobal(L, "t");
    lua_settop(L, 0);
    lua_pushcfunction(L, h_write_over);
    lua_setglobal(L, "write_over");
    assert_int_equal(luaL_loadstring(L, carts[i].script), LUA_OK);
    if (sl_host_call(L, 0, 1) == LUA_OK) snprintf(said, sizeof said, "%s", luaL_tolstring(L, -1, NULL));
    else {
      struct sl_message m;
      sl_error_message(L, -1, &m);
      snprintf(said, sizeof said, "%s %s", m.code, m.text);
    }
    if (strcmp(said, carts[i].want) != 0) fail_msg("%s: %s; wanted %s", carts[i].script, said, carts[i].want);
    sl_host_close(L);
  }
}

/* The door itself, with a primitive that hands back what it is given: the suites above reach it no more. */
struct sl_echo_row { double real; int pick; char text[4]; };
struct sl_echo_in { double real, other; const double *items; size_t nitems; int many; };
struct sl_echo_out {
  double real, other;
  const double *items; size_t nitems;
  int pick;
  char text[4];
  const struct sl_echo_row *rows; size_t nrows;
};
static const struct sl_field echo_row[] = {
  SL_REAL(struct sl_echo_row, real, SL_LENGTH, "r"), SL_CHOICE(struct sl_echo_row, pick, picks, "p"),
  SL_TEXT(struct sl_echo_row, text, "t"),
};
static const struct sl_field echo_in[] = {
  SL_REAL(struct sl_echo_in, real, SL_LENGTH, "r"), SL_REAL_OPT(struct sl_echo_in, other, SL_LENGTH, "o"),
  SL_LIST(struct sl_echo_in, items, nitems, SL_LENGTH, "i"), SL_COUNT_OPT(struct sl_echo_in, many, "m"),
};
static const struct sl_field echo_out[] = {
  SL_REAL(struct sl_echo_out, real, SL_LENGTH, "r"), SL_REAL_OPT(struct sl_echo_out, other, SL_LENGTH, "the other one"),
  SL_LIST(struct sl_echo_out, items, nitems, SL_LENGTH, "i"), SL_CHOICE(struct sl_echo_out, pick, picks, "p"),
  SL_TEXT(struct sl_echo_out, text, "t"),
  SL_ROWS(struct sl_echo_out, rows, nrows, struct sl_echo_row, echo_row, "w"),
};
static size_t sl_echo_need(const struct sl_echo_in *in) {
  return in->many == 60 ? (size_t)-1 : in->many == 70 ? 65 << 20 : in->nitems * sizeof(struct sl_echo_row);
}
static enum sl_status sl_echo(const struct sl_echo_in *in, struct sl_echo_out *out, struct sl_space space,
                              struct sl_sheet *sh) {
  (void)sh;
  assert_true(space.size == sl_echo_need(in));
  struct sl_echo_row *rows = space.at;
  for (size_t i = 0; i < in->nitems; i++) rows[i] = (struct sl_echo_row){ in->items[i], 1, "abc" };
  *out = (struct sl_echo_out){ .real = in->real, .other = in->other, .items = in->items, .nitems = in->nitems,
                               .pick = in->many % 10, .rows = rows, .nrows = in->nitems };
  if (in->many == 10) out->items = NULL;
  if (in->many == 20) memset(out->text, 'x', sizeof out->text);
  if (in->many == 30) rows[1].pick = 2;
  if (in->many == 40) memset(rows[1].text, 'x', sizeof rows[1].text);
  if (in->many == 50) rows[1].real = NAN;
  return SL_OK;
}
SL_OP_CALL_ROOM(echo)
static const struct sl_op echo = SL_OP_ROOM(echo, "hands back what it is given");

static const struct door {
  const char *name;
  double real, other, item;
  int many;
  const char *bad;                                               /* the output that is named; NULL: it passes */
} doors[] = {
  { "numbers pass the door", 1, 2, 3, 0, NULL },
  { "an optional output may be absent", 1, NAN, 3, 0, NULL },
  { "NaN does not pass the door", NAN, 2, 3, 0, "'real'" },
  { "nor what has no end", INFINITY, 2, 3, 0, "'real'" },
  { "nor below", -INFINITY, 2, 3, 0, "'real'" },
  { "an optional output is no way out", 1, INFINITY, 3, 0, "'other'" },
  { "NaN in a list does not pass", 1, 2, NAN, 0, "'items'" },
  { "nor what has no end in a list", 1, 2, -INFINITY, 0, "'items'" },
  { "nor a list without its items", 1, 2, 3, 10, "'items'" },
  { "the last choice passes", 1, 2, 3, 1, NULL },
  { "no choice past the last", 1, 2, 3, 2, "'pick'" },
  { "no choice before the first", 1, 2, 3, -1, "'pick'" },
  { "no text without an end", 1, 2, 3, 20, "'text'" },
  { "no such choice in a row", 1, 2, 3, 30, "'rows'" },
  { "no such text in a row", 1, 2, 3, 40, "'rows'" },
  { "no NaN in a row", 1, 2, 3, 50, "'rows'" },
  { "an answer beyond all room is refused", 1, 2, 3, 60, "more than 64 MiB" },
  { "and one beyond the room that there is", 1, 2, 3, 70, "more than 64 MiB" },
};

static void push_length(lua_State *L, double si) {
  sl_quantity_push(L, (struct sl_quantity){ .si = si, .dims = sl_dim_dims(SL_LENGTH) });
}

static void door_holds(void **state) {
  const struct door *d = *state;
  const struct job_row row = { d->name, NULL, NULL, NULL, NULL, NULL, 0 };
  lua_State *L = sl_host_new(&job_host, NULL);
  assert_non_null(L);
  lua_pushcfunction(L, job_body);
  lua_pushlightuserdata(L, (void *)(uintptr_t)&row);
  assert_int_equal(sl_host_call(L, 1, 0), LUA_OK);
  sl_bind_push(L, &echo);
  lua_newtable(L);
  push_length(L, d->real);
  lua_setfield(L, -2, "real");
  push_length(L, d->other);
  lua_setfield(L, -2, "other");
  lua_newtable(L);
  push_length(L, 3);
  lua_rawseti(L, -2, 1);
  push_length(L, d->item);
  lua_rawseti(L, -2, 2);
  lua_setfield(L, -2, "items");
  lua_pushinteger(L, d->many);
  lua_setfield(L, -2, "many");
  const bool fine = sl_host_call(L, 1, 1) == LUA_OK;
  struct sl_message m = { .code = "", .text = "" };
  if (d->bad) {
    if (!fine) sl_error_message(L, -1, &m);
    if (fine || strcmp(m.code, "C005") != 0 || strncmp(m.text, "echo: ", 6) != 0 || !strstr(m.text, d->bad))
      fail_msg("%s: %s[%s] %s", d->name, fine ? "passed" : "error", m.code, m.text);
    lua_getfield(L, -1, "class");
    assert_string_equal(lua_tostring(L, -1), "range");
  } else {
    assert_true(fine);
    lua_getfield(L, -1, "real");
    assert_near(number_at_top(L), d->real, 1e-15);
    lua_pop(L, 1);
    lua_getfield(L, -1, "rows");
    lua_geti(L, -1, 2);
    lua_getfield(L, -1, "real");
    assert_near(number_at_top(L), d->item, 1e-15);
    lua_getfield(L, -2, "text");
    assert_string_equal(lua_tostring(L, -1), "abc");
    lua_pop(L, 4);
    lua_setglobal(L, "answer");
    const bool reads = luaL_loadstring(L, "return answer.other") == LUA_OK && sl_host_call(L, 0, 1) == LUA_OK;
    assert_int_equal(reads, !isnan(d->other));
    if (!reads) {
      sl_error_message(L, -1, &m);
      assert_string_equal(m.code, "C007");
      assert_string_equal(m.text, "echo gives no 'other' here: the other one");
      lua_getfield(L, -1, "class");
      assert_string_equal(lua_tostring(L, -1), "range");
    }
  }
  sl_host_close(L);
}

/* Every primitive of the library has a row here. */
static void every_primitive_is_tried(void **state) {
  (void)state;
  size_t n = 0;
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++, n++) {
      bool found = false;
      for (size_t k = 0; k < sizeof goods / sizeof *goods; k++) found |= strcmp(goods[k].op, op->name) == 0;
      if (!found) fail_msg("no call of calc.%s is tried", op->name);
    }
  assert_int_equal(n, sizeof goods / sizeof *goods);
}

/* A primitive that is told an edition of the NEC cites that one alone, in all three. */
static void sheets_cite_their_edition(void **state) {
  (void)state;
  static const char *const editions[] = { "NEC 2017", "NEC 2020", "NEC 2023" };
  size_t tried = 0, cited = 0;
  for (size_t k = 0; k < sizeof goods / sizeof *goods; k++)
    for (size_t e = 0; e < sizeof editions / sizeof *editions && strstr(goods[k].text, "'NEC 2023'"); e++) {
      char text[512];
      const size_t len = strlen(editions[e]);
      assert_true(strlen(goods[k].text) < sizeof text);
      strcpy(text, goods[k].text);
      for (char *at = text; (at = strstr(at, "'NEC 2023'")); at++) memcpy(at + 1, editions[e], len);
      const struct good asked = { goods[k].op, text };
      const struct sl_op *op = op_named(asked.op);
      SHEET(sheet);
      char *in = calloc(1, op->in_size), *out = calloc(1, op->out_size);
      assert_true(in && out);
      lua_State *L = open_row(&asked);
      fill(L, op, in);
      SHEET_ANEW(sheet);
      assert_int_equal(op_call(op, in, out, &sheet), SL_OK);
      for (size_t i = 0; i < sheet.n; i++) {
        const char *cite = sheet.row[i].cite;
        if (!cite || (*cite != '@' && !strstr(cite, "NEC"))) continue;
        cited++;
        if (strncmp(cite, editions[e], len) != 0) fail_msg("%s under %s cites %s", op->name, editions[e], cite);
      }
      tried++;
      sl_host_close(L);
      free(in);
      free(out);
    }
  assert_int_equal(tried, 3 * 17);
  assert_true(cited > 2 * tried);
}

/* ---- faults of range, with the words of whose range it is -------------------------------------------------------- */

#define CITED(name, call, code, part) \
  { name, "host.print = function(f) local ok, e = pcall(f) out = ok and 'worked' or e.code .. ' ' .. " \
          "tostring(e.class) .. ' ' .. (e.cite and e.cite:find('" part "', 1, true) and " \
          "e.text:find('" part "', 1, true) and 'cited' or 'cite: ' .. tostring(e.cite)) end", \
    "print(function() return calc." call " end)\n", "return out", code " range cited", NULL, 0 }
static const struct job_row ranges[] = {
  CITED("tilt beyond the wind figure", "roof_wind{ velocity_pressure = 20psf, tilt = 60deg, slope_length = 4m, "
        "mean_height = 2m, edition = 'ASCE 7-22' }", "C005", "ASCE 7-22"),
  CITED("terminal of a conductor hotter than its table",
        "ampacity{ material = 'copper', size = '6', insulation = 'THWN-2', terminal = '75 C', "
        "ambient = 90degC, conductors = 2, maximum = 34.75A, required = 43.4A, "
            "edition = 'NEC 2023' }", "C005", "310.15"),
  CITED("no such conductor", "conductor{ material = 'copper', size = '5', stranding = 'stranded', "
      "edition = 'NEC 2023' }", "C006", "Table 8"),
  CITED("a device beyond the standard ratings", "overcurrent{ required = 9000A, ampacity = 65A, material = "
        "'copper', size = '6', device = 'breaker', "
        "edition = 'NEC 2023' }", "C005", "240.6"),
  CITED("a device beyond the grounding table",
        "grounding_conductor{ device = 9000A, material = 'copper', edition = 'NEC 2023' }", "C005",
        "250.122"),
  CITED("colder than the voltage table", "cold_voltage_table{ voc = 37V, series = 13, coldest = -60degC, limit = "
        "600V, edition = 'NEC 2023' }", "C005", "690.7"),
  CITED("no such section", "lumber{ section = '5x5', length = 12ft, edition = 'NDS 2018' }", "C006", "PS 20"),
  CITED("no such raceway", "raceway_fill{ kind = 'EMT', trade_size = '7', conductors = { { size = '6', count = 2, "
        "insulation = 'THWN-2' } }, edition = 'NEC 2023' }", "C006", "Table 4"),
};

/* ---- the rest ---------------------------------------------------------------------------------------------------- */

#define POST "{ lateral = 440lbf, height = 6.5ft, width = 14in, bearing = 150psf/ft, neglect = 0in, " \
  "edition = 'IBC 2021' }"
#define KEEP "host.print = function(v) out = v end"
static const struct job_row others[] = {
  { "a worked result cannot be changed", NULL, "\ncalc.embed_neglecting" POST ".depth = 3ft\n", NULL,
        "cannot be changed", "C008", 2 },
  { "no such output", NULL, "\nprint(calc.embed_neglecting" POST ".dept)\n", NULL,
        "embed_neglecting gives no 'dept'", "C002", 2 },
  { "an output by number", NULL, "\nprint(calc.embed_neglecting" POST "[1])\n", NULL,
        "embed_neglecting gives no '1'", "C002", 2 },
  { "no such primitive", NULL, "\ncalc.embedd" POST "\n", NULL, "calc has no primitive 'embedd'", "E001", 2 },
  { "calc cannot be changed", NULL, "\ncalc.embed_neglecting = nil\n", NULL, "calc cannot be changed", "D008", 2 },
  { "a sheet of something else", KEEP, "print(3ft)\n", "return worked_sheet(out)",
        "sheet needs the result of a primitive, got 3 ft", "C001", 0 },
  { "pounds where a force is wanted", NULL, "\ncalc.output_current{ power = 3kW, voltage = 2lb, "
      "edition = 'NEC 2023' }\n", NULL,
        "needs a voltage", "C001", 2 },
  { "pounds for pounds of force", "host.print = function(f) local ok, e = pcall(f) out = e.help end",
    "print(function() calc.allowable_wind{ wind = 750lb, edition = 'ASCE 7-16' } end)\n", "return out",
    "lb is a mass: write lbf where a force is meant", NULL, 0 },
  { "wrong input names the value", NULL,
        "\ncalc.embed_neglecting{ lateral = -440lbf, height = 6.5ft, width = 14in, bearing = "
        "150psf/ft, neglect = 0in, edition = 'IBC 2021' }\n", NULL,
    "embed_neglecting: 'lateral' ", "C004", 2 },
  { "and it is the caller's mistake, not a range", "host.print = function(f) local ok, e = pcall(f) out = "
        "tostring(e.class) end",
    "print(function() return calc.embed_neglecting{ lateral = -440lbf, height = 6.5ft, width = 14in, "
          "bearing = 150psf/ft, neglect = 0in, edition = 'IBC 2021' } end)\n", "return out", "nil", NULL, 0 },
  { "a search without end is told", NULL,
        "\ncalc.embed_neglecting{ lateral = 4e9lbf, height = 6.5ft, width = 14in, bearing = "
        "150psf/ft, neglect = 0in, edition = 'IBC 2021' }\n", NULL,
    "embed_neglecting: ", "C007", 2 },
  /* 1e308 m and 1e308 m: the diagonal is 1.4e308 m, and 1.3e308 m both ways 1.8e308, above what a double holds */
  { "inputs that overflow leave what asks unknown", NULL,
        "\nlocal far = 1e308m * 1.3 print(calc.diagonal{ along = far, across = far }.diagonal)\n", NULL,
        "diagonal: 'c' comes out as no number", "C005", 2 },
  /* a string that never reaches its limit: 1 module of 39.2 V under 250 V wants (250 / 39.2 - 1) / 0.0025 = 2151 K of
   * cold, and there are 298 */
  { "an output that is not there is told", NULL, "\nprint(calc.cold_voltage{ voc = 39.2V, coefficient = -0.25%/K, "
        "series = 1, coldest = -16degC, limit = 250V, edition = 'NEC 2023' }.flip)\n", NULL,
        "cold_voltage gives no 'flip' here: colder than this", "C007", 2 },
  { "a list behind a proxy is read", "host.print = function(v) out = v end "
    "function boot_list(list) return setmetatable({}, { __index = list, __len = function() return #list end }) end",
    "print(90deg)\n", "return host.format(calc.bends{ angles = boot_list{ out, out, out }, "
        "edition = 'NEC 2023' }.total)", "270 deg", NULL,
          0 },
  { "a list longer than a primitive takes is out of its range: what asks is unknown", KEEP, "",
    "local _, e = pcall(calc.bends, { angles = setmetatable({}, { __len = function() return 1000001 end }), "
        "edition = 'NEC 2023' }) return "
    "host.class(e) .. (e.text:find 'at most 1000000 items, got 1000001' and '' or e.text)", "range", NULL, 0 },
  { "a list that says it is shorter than nothing", KEEP, "",
    "local _, e = pcall(calc.bends, { angles = setmetatable({}, { __len = function() return -1 end }), "
    "edition = 'NEC 2023' }) return "
    "host.class(e) .. (e.text:find 'at most 1000000 items, got %-1' and '' or e.text)", "range", NULL, 0 },
  { "a list that grows while it is read is read as long as it was", KEEP, "print(90deg)\n",
    "local n = 0 return host.format(calc.bends { angles = setmetatable({}, { __index = function() return out end, "
    "__len = function() n = n + 1 return n end }), edition = 'NEC 2023' }.total)", "90 deg", NULL, 0 },
  { "a list may be long", KEEP, "print(1deg)\n", "local angles = {} for i = 1, 300 do angles[i] = out end local w = "
    "calc.bends { angles = angles, "
        "edition = 'NEC 2023' } local _, rows = worked_sheet(w) return host.format(w.total) .. #rows", "300 deg604",
    NULL, 0 },
  { "values may be inherited", KEEP, "print" POST "\n",
        "local all = setmetatable({ width = out.width }, { __index = out }) "
    "return host.same(calc.embed_neglecting(all).depth, calc.embed_neglecting(out).depth)", "true", NULL, 0 },
  { "but not misspelt beside them", KEEP, "print" POST "\n",
        "return calc.embed_neglecting(setmetatable({ widht = out.width }, { __index = out }))",
    "no field 'widht'", "C002", 0 },
  { "of two unknown fields the first by name is told", NULL,
        "\ncalc.embed_neglecting{ zz = 1, yy = 2, aa = 3, mm = 4 }\n", NULL, "no field 'aa'", "C002", 2 },
  { "money keeps no other kind out", NULL, "\ncalc.extended{ price = 6.40, quantity = 24 }\n", NULL,
        "'price' needs a money", "C001", 2 },
  { "a temperature is no difference", NULL, "\ncalc.hot_voltage{ vmp = 32.8V, coefficient = -0.3%/K, series = 4, "
        "hottest_air = 36degC, "
    "cell_rise = 30degC }\n", NULL, "'cell_rise' needs a temperature difference", "C001", 2 },
  { "a primitive tells the fields of its rows", NULL, "",
        "local p = primitive 'raceway_fill' local rows = p.inputs[3] local s = rows.name .. ' ' .. rows.kind "
        "for _, f in ipairs(rows.fields) do s = s .. ' ' .. f.name .. ' ' .. f.kind .. (f.optional and '?' or '') end "
        "p = primitive 'stations' return s .. ' ' .. #p.outputs[2].fields .. p.outputs[2].fields[1].dim",
        "conductors rows size text count count insulation text? bare flag? stranding choice? 2length", NULL, 0 },
  { "primitives are listed with their fields", NULL, "",
        "local n = 0 for _, p in ipairs(primitives()) do assert(#p.inputs > 0 and #p.outputs > 0 and "
    "#p.help > 0) for _, f in ipairs(p.inputs) do assert(#f.help > 0 and f.kind, f.name) n = n + 1 end end return n "
          "> 100", "true", NULL, 0 },
};

int main(void) {
  static struct CMUnitTest tests[512];
  static char names[3][sizeof goods / sizeof *goods][64];
  size_t n = 0;
  for (size_t i = 0; i < sizeof goods / sizeof *goods; i++) {
    snprintf(names[0][i], sizeof names[0][i], "%s is the direct call", goods[i].op);
    snprintf(names[1][i], sizeof names[1][i], "%s refuses what is wrong", goods[i].op);
    snprintf(names[2][i], sizeof names[2][i], "%s gives numbers or refuses", goods[i].op);
    tests[n++] = (struct CMUnitTest){ names[0][i], is_the_direct_call, NULL, NULL, (void *)(uintptr_t)&goods[i] };
    tests[n++] = (struct CMUnitTest){ names[1][i], refuses_what_is_wrong, NULL, NULL, (void *)(uintptr_t)&goods[i] };
    tests[n++] = (struct CMUnitTest){ names[2][i], gives_numbers_or_refuses, NULL, NULL, (void *)(uintptr_t)&goods[i] };
  }
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(every_primitive_is_tried);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(sheets_cite_their_edition);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(rows_are_looked_at);
  tests[n++] = (struct CMUnitTest)cmocka_unit_test(rows_are_read_in_place);
  for (size_t i = 0; i < sizeof doors / sizeof *doors; i++)
    tests[n++] = (struct CMUnitTest){ doors[i].name, door_holds, NULL, NULL, (void *)(uintptr_t)&doors[i] };
  JOB_ROWS(tests, n, ranges);
  JOB_ROWS(tests, n, others);
  return _cmocka_run_group_tests("bind", tests, n, job_setup, job_teardown);
}
