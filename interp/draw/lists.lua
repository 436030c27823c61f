-- SPDX-License-Identifier: MIT
-- Sheets of the text kind that a crew takes along, as pages behind the drawings: as `stringline sheet NAME --for crew`
-- prints them, in letters that are read from a sawhorse.
--   { name = of the sheet, title }
return {
  { name = "posts", title = "Post schedule" },
  { name = "marks", title = "Rail and rafter marks" },
  { name = "drill", title = "Drill list" },
}
