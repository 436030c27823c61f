-- SPDX-License-Identifier: MIT
-- order: the place of the domain among the others, in documents and reports.  always: its rules are judged in every
-- job, so that they may tell what is missing altogether; the rules of another domain wait for what they judge.
return { order = 10, always = true }
