/* SPDX-License-Identifier: MIT
 * A good call of each primitive, and what suites of the binding share. */
#ifndef GOOD_CALLS_H
#define GOOD_CALLS_H

#include "job_run.h"
#include "bind/open.h"
#include "value/quantity.h"
#include "op_check.h"

/* As a script writes it. */
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
        "hinges = { 3m }, places = { 2m, 5m }, edition = 'ASCE 7-16' }" },
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
  { "washer_press", "{ size = '1/2', washer = 1.375in, width = 1.5in, stress = 378psi, force = 400lbf, "
                    "edition = 'NDS 2018' }" },
  { "net_section", "{ kind = 'bolt', size = '1/2', width = 1.5in, depth = 7.25in, upright = false, count = 2, "
                   "to_edge = 2in, spacing = 2in, edition = 'NDS 2018' }" },
  { "plate_steel", "{ plate = 'A36', width = 3in, thickness = 0.25in, plates = 2, kind = 'bolt', size = '1/2', "
                   "holes = 2, spacing = 1in, pull = 900lbf, shear = 300lbf, moment = 200[lbf*ft], free = 7in, "
                   "bears = 500lbf, edition = 'NDS 2018' }" },
  { "joint_force", "{ along = 300lbf, across = 400lbf, lean = 55deg }" },
  { "grain_parts", "{ force = 300lbf, beside = 400lbf, angle = 35deg }" },
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
  { "bolt_steel", "{ diameter = 0.5in, grade = 'SAE grade 5', planes = 2, smooth = true, tension = 900lbf, "
                  "shear = 300lbf, method = 'allowable' }" },
  { "outline", "{ shape = 'rectangle', width = 3in, depth = 2in, wall = 0.125in, corner = 0.25in }" },
  { "slope_loads", "{ tilt = 30deg, area = 10m2, weight = 2kN, weight_least = 1kN, snow = 20psf, push = 30psf, "
                   "lift = 40psf, edition = 'ASCE 7-16' }" },
  { "crossing_loads", "{ tilt = 30deg, area = 10m2, weight = 2kN, weight_least = 1kN, snow = 20psf, push = 30psf, "
                      "lift = 40psf, least = 16psf, carried = 1m2, edition = 'ASCE 7-16' }" },
  { "slant_wind", "{ winds = { { low = -30psf, high = -50psf } }, slope_length = 10ft, length = 20ft, rise = 3%, "
                  "tilt = 35deg }" },
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
        "arm = 0.9m, bears = 700[N*m] } }, "
        "front = 0m, back = 2m, front_above = 0m, back_above = 0.5m, edition = 'ASCE 7-16' }" },
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

static inline const struct sl_op *op_named(const char *name) {
  for (size_t i = 0; sl_op_lists[i]; i++)
    for (const struct sl_op *op = sl_op_lists[i]; op->name; op++)
      if (strcmp(op->name, name) == 0) return op;
  return NULL;
}

/* A state with the row's table at 1. */
static inline lua_State *open_row(const struct good *g) {
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

static inline void push_copy(lua_State *L, int idx) {
  lua_newtable(L);
  for (lua_pushnil(L); lua_next(L, idx);) {
    lua_pushvalue(L, -2);
    lua_insert(L, -2);
    lua_rawset(L, -4);
  }
}

/* Calls the primitive with the table on top; true: its result is on top, else the error. */
static inline bool call(lua_State *L, const char *op) {
  lua_getglobal(L, "calc");
  lua_getfield(L, -1, op);
  lua_remove(L, -2);
  lua_insert(L, -2);
  return sl_host_call(L, 1, 1) == LUA_OK;
}

static inline double number_at_top(lua_State *L) {
  const struct sl_quantity *q = sl_quantity_at(L, -1);
  return q ? q->si : lua_tonumber(L, -1);
}

/* Whatever nothing holds any more is collected and written over. */
static inline void write_over(lua_State *L) {
  lua_gc(L, LUA_GCCOLLECT);
  for (size_t round = 0; round < 4; round++)
    for (size_t size = 8; size <= 4096; size += 8) {
      memset(lua_newuserdatauv(L, size, 0), 0x5a, size);
      lua_pop(L, 1);
    }
}

static inline int h_write_over(lua_State *L) {
  write_over(L);
  return 0;
}

#endif
