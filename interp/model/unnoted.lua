-- SPDX-License-Identifier: MIT
-- What is looked up while somebody notes what is read (model.noting, model.called), and is no part of that.
local run = import "model.run"
local memo = import "model.memo"
local record = import "model.record"
local unnoted = {}

-- Calls f while nobody notes anything: what it reads is not what its caller rests on.
function unnoted.call(f, ...)
  if not run.noting then return f(...) end
  local noting, primitives, listener, kept = run.noting, calc, record.watch(false), memo.engine.again(nil)
  run.noting, calc = false, memo.primitives
  local packed = table.pack(pcall(f, ...))
  run.noting, calc = noting, primitives
  record.watch(listener)
  memo.engine.again(kept)
  if not packed[1] then error(packed[2], 0) end
  return table.unpack(packed, 2, packed.n)
end

return unnoted
