-- SPDX-License-Identifier: MIT
-- What ground screws and driven posts hold: by the torque of the target, or of the log; by pull tests; sideways by what
-- a test or a table says.
local graph = import "model.graph"
local record = import "model.record"
local feet = import "structure.feet"
local logs = import "screws.logs"
local work, result, given = graph.work, graph.result, record.given

local footing_of = feet.footing

local function no_screw(post)
  local f = footing_of(post)
  if feet.kind(f) ~= "screw" then return tostring(post) .. " has no screw: it has " .. feet.named(f) end
end
local function not_pierced(post)
  local f = footing_of(post)
  if feet.kind(f) ~= "screw" and feet.kind(f) ~= "driven" then
    return tostring(post) .. " has neither a screw nor is it driven: it has " .. feet.named(f)
  end
end

-- A screw that stopped short has its helices higher.
result { "post", "helix_below", dim = "length",
  says = "depth of its screw's top helix below the ground: as designed, or as the log has the tip",
  none = no_screw,
  work = function(p)
    local f = footing_of(p)
    return f.helix_depth - (feet.depth(f) - logs.tip(p))
  end }

-- Nothing is known of one whose helix is not in the ground.
local function helix_below(post)
  local below = post.helix_below
  if host.si(below) <= 0 then
    host.raise { code = "C005", class = "range", text = "the top helix of the screw of " .. tostring(post) ..
        " does not lie in the ground: nothing tells what it holds" }
  end
  return below
end

local function logged_torque(post)
  local log = logs.of(post)
  return log and given(log, "torque")
end

-- Whether anything is said of torque.
local function has_torque(post) return given(footing_of(post), "torque") ~= nil or logged_torque(post) ~= nil end

result { "post", "driven_torque", dim = "moment",
  says = "torque that its screw's hold goes by: as logged, or the target",
  none = function(p) return no_screw(p) or not has_torque(p) and tostring(p) .. " has no torque" or nil end,
  work = function(p) return logged_torque(p) or footing_of(p).torque end }

work { "post", "by_torque", op = "screw_anchor", says = "what its screw holds by torque",
  none = function(p) return no_screw(p) or not has_torque(p) and tostring(p) .. " has no torque" or nil end,
  input = function(p, job)
    local f = footing_of(p)
    return { shaft = f.shaft_kind, torque = p.driven_torque, pulls = {}, helix = f.helix, top_depth = helix_below(p),
        frost = job.site.frost, edition = job.codes.building }
  end,
  gives = { allowable = { name = "torque_holds", says = "what its screw holds by torque, push or pull, allowable " ..
      "level" } } }

work { "post", "by_pulls", op = "screw_anchor", says = "what its screw, or it driven, holds by pull tests",
  none = function(p)
    return not_pierced(p) or #logs.pulls(footing_of(p)) == 0 and "nobody pulled at what " .. tostring(p) ..
        " stands on" or nil
  end,
  input = function(p, job)
    local f = footing_of(p)
    local helix = feet.kind(f) == "screw" and given(f, "helix")
    return { pulls = logs.loads(p), helix = helix or nil, top_depth = helix and helix_below(p) or nil,
        frost = job.site.frost, edition = job.codes.building }
  end,
  gives = { allowable = { name = "pull_holds", says = "what its screw, or it driven, holds by pull tests, allowable " ..
      "level" } } }

local function tables() return import "screws.tables" end
local function by_table(p) return given(footing_of(p), "model") ~= nil and tables().along(p) end

-- Where both are known the less counts; it holds as much in push as in pull.
local function by_job(p)
  local f = footing_of(p)
  local pulled, torque = #logs.pulls(f) > 0, feet.kind(f) == "screw" and has_torque(p)
  if torque and pulled then return p.torque_holds < p.pull_holds and p.torque_holds or p.pull_holds end
  if torque then return p.torque_holds elseif pulled then return p.pull_holds end
  local is_screw = feet.kind(f) == "screw"
  host.raise { code = "D010", class = "missing", path = tostring(f) .. (is_screw and ".torque" or ""),
      who = "engineer", tool = is_screw and "a torque to drive to, or a pull test" or "a pull test",
      text = "what holds " .. feet.title(f) .. " is not known: " .. (is_screw and "no torque is given, and no " ..
          "pull test" or "no pull test is given, and nothing else tells it of a driven post") }
end

result { "post", "anchor_holds", dim = "force",
  says = "what its screw, or it driven, holds along itself in pull, allowable level: by torque, by pull tests, or " ..
      "the less of the two; where neither is known by its maker's table",
  none = not_pierced,
  work = function(p) return by_table(p) and tables().pull(p).pull or by_job(p) end }
result { "post", "anchor_bears", dim = "force",
  says = "the same in push: as much, but by its maker's table, which has a figure of its own",
  none = not_pierced,
  work = function(p) return by_table(p) and tables().push(p).push or by_job(p) end }
-- ---- sideways ----------------------------------------------------------------------------------------------------

result { "footing", "sideways_moment", dim = "moment",
  says = "moment at the ground that the test or the table of its load sideways takes",
  none = function(f)
    return given(f, "sideways_at") == nil and tostring(f) .. " has no height of a load sideways" or nil
  end,
  formula = "sideways * sideways_at" }

result { "post", "shaft_used", says = "how far the shaft of its screw is used, below the ground; 1 is its strength",
  none = function(p) return import("loads.buried").no_shaft(p) end,
  work = function(p) return import("loads.buried").shaft(p).worst end }

result { "post", "ground_moment", dim = "moment",
  says = "largest moment at the ground on what it stands on, allowable level: none where its foot is hinged",
  none = not_pierced,
  work = function(p)
    if feet.hinged(footing_of(p)) then return host.quantity(0.0, "moment") end
    local moment = p.lateral * p.push_height
    if graph.paper(p, "loads.side") then return moment end
    local most = p.foot.moment
    return most > moment and most or moment
  end }

result { "post", "load_height", dim = "length",
  says = "how high above the ground what pushes it sideways acts: its largest moment there over its push",
  none = not_pierced,
  work = function(p)
    local push, moment = p.lateral, p.ground_moment
    if host.si(push) > 0 then return moment / push end
    if host.si(moment) == 0 then return host.quantity(0.0, "length") end
    host.raise { code = "C005", class = "range", text = "a moment without a push at the ground of " .. tostring(p) ..
        ": how high a load of the maker's table that is nobody says" }
  end }
