-- SPDX-License-Identifier: MIT
-- A rail as a beam over its supports under one load along all of it.
return function(length, supports, load, ei, hinges)
  return calc.beam { length = length, supports = supports, load = load,
      ei = ei or host.quantity(1.0, "bending stiffness"), hinges = hinges or {},
      patch_from = {}, patch_to = {}, patch_load = {}, point_at = {}, point_load = {} }
end
