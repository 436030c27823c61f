-- SPDX-License-Identifier: MIT
-- Lots: so many of a thing, or one length of it, as a delivery note or an order has them:
--   { 6, "EC-30" }    { 365ft, "10 AWG THWN-2 copper" }    { 4, "2x4", length = 16ft }
-- Loaded with the kinds that hold lots.
local schema = import "model.schema"
local run = import "model.run"
local lots = {}

local count = { "amount", "count", name = "amount", type = "count", min = 1, example = "6" }
local text = { "item", "text", name = "item", type = "text", required = true, example = "6x6 UC4B" }
local length = { "length", "quantity", name = "length", type = "quantity", dim = "length", above = 0, max = 10000,
    example = "16ft", range_help = "the length of one piece" }

-- What a lot is read back as; another amount or item is put into what was written, and read again (model.anew).
lots.shape = { lot = true, fields = { count, text, length }, by = { amount = count, item = text, length = length } }

local form = '{ 6, "EC-30" }, { 365ft, "10 AWG THWN-2 copper" } or { 4, "2x4", length = 16ft }'

lots.says = "so many of an item, or one length of it: " .. form

local function deeper(path, key)
  local p = table.move(path, 1, #path, 1, {})
  p[#p + 1] = key
  return p
end

-- What is put in stands beside what was written, under its name; no script writes it so.
local function put_in(ctx, path, value, key)
  local x = rawget(value, key)
  if x ~= nil and ctx.span(deeper(path, key)).source == 0 then return x end
end

local function refuse_rest(ctx, path, value)
  for key, x in host.sorted(value) do
    if (key == "amount" or key == "item") and put_in(ctx, path, value, key) ~= nil then goto next end
    if math.type(key) == "integer" and key ~= 1 and key ~= 2 then
      schema.bad(ctx, deeper(path, key), "a lot has one amount and one item, got " .. host.describe(x) .. " besides",
          "as in " .. form, "D005")
    elseif type(key) == "string" and key ~= "length" then
      local near = host.nearest(key, { "length" })
      local at = ctx.span(deeper(path, key), true)
      host.raise { code = "D001", text = ctx.what .. ": a lot has no '" .. key .. "'",
          source = at.source, line = at.line, col = at.col, len = at.len,
          help = near and "did you mean 'length'?" or "as in " .. form }
    end
    ::next::
  end
end

-- An amount without a length is a count; a length alone is one piece.
function schema.read_lot(ctx, path, _, value)
  if type(value) ~= "table" or run.is_record(value) or run.telling[value] then
    schema.bad(ctx, path, "a lot is an amount and an item, got " .. host.describe(value), "as in " .. form)
  end
  refuse_rest(ctx, path, value)
  local amount, item = put_in(ctx, path, value, "amount"), put_in(ctx, path, value, "item")
  local first, second = amount == nil and value[1] or amount, item == nil and value[2] or item
  if first == nil or second == nil then
    schema.bad(ctx, path, "a lot needs an amount and " .. (first == nil and "an item" or "what it is of"),
        "as in " .. form, "D002")
  end
  if type(second) ~= "string" or not string.find(second, "%S") then
    schema.bad(ctx, deeper(path, 2), "what a lot is of stands in quotes, got " .. host.describe(second), "as in " ..
        form)
  end
  local v = { item = schema.validate(ctx, deeper(path, 2), text, second) }
  if host.is(first, "length") then
    v.amount, v.length = 1, schema.validate(ctx, deeper(path, 1), length, first)
    if value.length ~= nil then
      schema.bad(ctx, deeper(path, "length"), "the length stands there twice",
          "a length alone is one piece; several are { 4, \"2x4\", length = 16ft }", "D005")
    end
  else
    v.amount = type(first) == "number" and math.tointeger(first)
    if not v.amount or v.amount < 1 then
      schema.bad(ctx, deeper(path, 1), "the amount is a whole number from 1 on, or the length of one piece, got " ..
          host.describe(first), "as in " .. form)
    end
    if value.length ~= nil then v.length = schema.validate(ctx, deeper(path, "length"), length, value.length) end
  end
  return ctx.freeze_group(v, lots.shape, path)
end

return lots
