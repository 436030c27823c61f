#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: MIT
return 1
