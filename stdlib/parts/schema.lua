-- SPDX-License-Identifier: MIT
-- What the files of parts and of prices hold: one row, one part.  The first heading of a parts file names their kind.
local schema = import "model.schema"
local kind = schema.kind

local heat = "heat lowers the voltage, most often by 0.2 to 0.5 % a degree: as in -0.25 %/K"
local data_sheet = { "data_sheet", "text", example = "M430 data sheet, 2026-02",
  says = "which data sheet the row is from, and its date" }

-- Where the maker of a module lets clamps sit.
local function zone(name, example, says)
  return { name, "quantity", spare = true, dim = "length", min = 0, max = 2, example = example, says = says,
    who = "module data sheet", tool = "the maker's mounting manual" }
end

-- A zone begins before it ends, and counts from the nearer corner.
local function zone_of(v, name, side)
  local least, most = v[name .. "_least"], v[name .. "_most"]
  if least and most and host.si(least) > host.si(most) then
    return name .. "_least is above " .. name .. "_most", "from the nearer corner: 300 mm to 450 mm",
        name .. "_least"
  end
  if most and host.si(most) > host.si(side) / 2 + 1e-9 then
    return name .. "_most reaches beyond the middle of the side",
        "it counts from the nearer corner: 300 mm to 450 mm on a side of 1722 mm", name .. "_most"
  end
end

kind { "module", named = true, part = true, who = "module data sheet",
    says = "a photovoltaic module, from its data sheet",
  fields = {
    { "length", "quantity", dim = "length", above = 0, max = 4, required = true, example = "1722 mm",
      says = "long side" },
    { "width", "quantity", dim = "length", above = 0, max = 3, required = true, example = "1134 mm",
      says = "short side" },
    { "frame", "quantity", dim = "length", above = 0, max = 0.1, required = true, example = "30 mm",
      says = "height of the frame" },
    { "mass", "quantity", dim = "mass", above = 0, max = 100, required = true, example = "21.5 kg", says = "mass" },
    { "power", "quantity", dim = "power", above = 0, max = 2000, required = true, example = "430 W",
      says = "rated power" },
    { "voc", "quantity", dim = "voltage", above = 0, max = 300, example = "39.2 V",
      says = "open-circuit voltage at standard conditions" },
    { "vmp", "quantity", dim = "voltage", above = 0, max = 300, example = "32.8 V",
      says = "voltage at full power" },
    { "isc", "quantity", dim = "current", above = 0, max = 50, example = "13.90 A",
      says = "short-circuit current" },
    { "imp", "quantity", dim = "current", above = 0, max = 50, example = "13.11 A",
      says = "current at full power" },
    { "voc_coefficient", "quantity", dim = "change per degree", min = -0.01, max = -0.0005,
      range_help = heat, example = "-0.25 %/K", says = "change of the open-circuit voltage" },
    { "vmp_coefficient", "quantity", dim = "change per degree", min = -0.01, max = -0.0005,
      range_help = heat, example = "-0.30 %/K", says = "change of the voltage at full power" },
    { "max_fuse", "quantity", dim = "current", above = 0, max = 100, example = "25 A",
      says = "largest series fuse" },
    { "max_voltage", "quantity", dim = "voltage", above = 0, max = 2000, example = "1500 V",
      says = "highest system voltage" },
    { "front_load", "quantity", dim = "pressure", above = 0, max = 30000, example = "5400 Pa",
      says = "pressure on its front that its sheet gives for the clamps used" },
    { "back_load", "quantity", dim = "pressure", above = 0, max = 30000, example = "2400 Pa",
      says = "pressure on its back, that which lifts, which its sheet gives for them" },
    { "load_level", "choice", choices = { "test", "design" },
      says = "what these pressures are: of the test, which are divided by 1.5, or design loads" },
    zone("clamp_zone_least", "300 mm", "from a corner, along the long side, to where clamps may begin to sit"),
    zone("clamp_zone_most", "450 mm", "from a corner, along the long side, to where they must end"),
    zone("short_zone_least", "100 mm", "from a corner, along the short side, to where clamps may begin to sit"),
    zone("short_zone_most", "250 mm", "from a corner, along the short side, to where they must end"),
    { "width_tolerance", "quantity", spare = true, dim = "length", min = 0, max = 0.02, example = "2 mm",
      says = "how far a module's length or width may be off" },
    data_sheet,
  },
  check = function(v)
    if host.si(v.width) > host.si(v.length) then return "the width is greater than the length",
        "length is the long side", "width" end
    local text, help, field = zone_of(v, "clamp_zone", v.length)
    if not text then text, help, field = zone_of(v, "short_zone", v.width) end
    if text then return text, help, field end
    if v.vmp and v.voc and host.si(v.vmp) >= host.si(v.voc) then return "vmp must be below voc", nil, "vmp" end
    if v.imp and v.isc and host.si(v.imp) >= host.si(v.isc) then return "imp must be below isc", nil, "imp" end
    if not v.vmp or not v.imp then return end
    local power, off = v.vmp * v.imp, host.fact "power_off"
    if host.abs(v.power - power) > off * power then
      return "the power is " .. host.format(v.power) .. ", but vmp times imp is " .. host.format(power),
          "one of the three is mistyped: see the data sheet", "power"
    end
  end }

kind { "clamp", named = true, part = true, who = "maker's data sheet", says = "a module clamp",
  fields = {
    { "role", "choice", choices = { "mid", "end" }, required = true,
      says = "between two modules, or at the end of a row" },
    { "least_frame", "quantity", dim = "length", above = 0, max = 0.1, example = "28 mm",
      says = "lowest frame that it holds" },
    { "most_frame", "quantity", dim = "length", above = 0, max = 0.1, example = "40 mm",
      says = "highest frame that it holds" },
    { "along", "quantity", spare = true, dim = "length", above = 0, max = 0.5, example = "50 mm",
      says = "how far it reaches along the module's side; without it the middle of the clamp is judged alone" },
    { "bolt", "quantity", spare = true, dim = "length", above = 0, max = 0.3, example = "55 mm",
      says = "length of its bolt" },
    { "bolt_beyond", "quantity", spare = true, dim = "length", min = 0, max = 0.2, example = "22 mm",
      says = "what clamp, washer and nut take of the bolt beyond the height of the frame" },
    { "least_gap", "quantity", spare = true, dim = "length", above = 0, max = 0.3, example = "12 mm",
      says = "of a clamp between two modules: least gap between them in which it stands" },
    { "hold", "quantity", spare = true, dim = "force", above = 0, max = 1e5, example = "450 lbf",
      says = "what one clamp holds square to the modules, by its maker's table" },
    { "hold_level", "choice", spare = true, choices = { "allowable", "ultimate" },
      says = "what that force is: allowable, or the one at which it failed in a test" },
    data_sheet,
  },
  check = function(v)
    if v.least_frame and v.most_frame and host.si(v.least_frame) > host.si(v.most_frame) then
      return "least_frame is above most_frame", nil, "least_frame"
    elseif v.least_gap and v.role == "end" then
      return "a clamp at the end of a row stands in no gap", "leave least_gap empty", "least_gap"
    elseif v.hold_level and not v.hold then
      return "a level without the force that it is of", "hold = 450 lbf, or leave it out", "hold_level"
    end
  end }

kind { "price", part = true, says = "one line of a vendor's price list",
  written = 'prices "FILE"', where = "a row of a price list; the columns are these",
  fields = {
    { "item", "text", required = true, example = "6x6 UC4B",
      says = "what it is: lumber by size (posts with their treatment), wire as '6 AWG THWN-2 copper', concrete as " ..
        "'concrete 80 lb' or 'concrete ready-mix', the charge for a truck that is not full as " ..
        "'concrete short load', what holds declared joints as the shopping list calls it, parts by number" },
    { "length", "quantity", dim = "length", above = 0, max = 10000, example = "12 ft",
      range_help = "the length of one piece, or of one spool", says = "length of a piece or of a spool" },
    { "price", "money", above = 0, max = 1e6,
      range_help = "of one, of a length or of a volume; a row without a price yet is left out, and what you have is " ..
        "on_hand",
      required = true, example = "$46 or $1.05/ft or $172/yd3",
      says = "price of one, of a box, of a length, or of a volume" },
    { "box", "count", min = 2, max = 100000, example = "100",
      says = "how many are in a box that is sold whole: the price is that of the box" },
    { "vendor", "text", required = true, example = "Sawtail Lumber", says = "who sells it" },
    { "priced_on", "date", required = true, example = "2026-10-28", says = "the day of the price" },
  },
  check = function(v)
    if v.box and (v.length or v.price and not host.is(v.price, "money")) then
      return "what is sold by length or by volume is in no box", "leave the cell of 'box' empty, or that of 'length'",
          "box"
    end
  end }
