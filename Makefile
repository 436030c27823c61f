# SPDX-License-Identifier: MIT
# `make help` lists the targets.  Objects go to $(BUILD); files are found by wildcard, so a new one needs no edit.
BUILD   ?= build
CC      := $(if $(filter default,$(origin CC)),gcc,$(CC))
PREFIX  ?= /usr/local
CFLAGS  ?= -O2 -g
SAN     ?=
WARN    := -std=c11 -Wall -Wextra -Wpedantic -Wconversion -Werror
VERSION := 0.1.0
# V=1 shows the commands.
Q        = $(if $(V),,@)
say      = $(if $(V),,@echo '  $(1)  $@')
.DEFAULT_GOAL := all
.DELETE_ON_ERROR:

LUA_CFLAGS  = $(shell pkg-config --cflags lua5.4)
LUA_ARCHIVE = $(shell pkg-config --variable=libdir lua5.4)/liblua5.4.a
CPPFLAGS   += -D_POSIX_C_SOURCE=200809L -DSL_VERSION='"$(VERSION)"' -Iinclude -Iinterp -Iinterp/calc -I$(BUILD)/gen $(LUA_CFLAGS)
COMPILE     = $(CC) $(CPPFLAGS) $(WARN) $(CFLAGS) $(SAN) -ffile-prefix-map=$(CURDIR)=. -MMD -MP
LIBS        = $(LUA_ARCHIVE) -lm -ldl

object   = $(patsubst %.c,$(BUILD)/%.o,$(wildcard $(1)))
CALC    := $(call object,interp/calc/*.c)
ROOMS   := bind scan value box host model write
HOST    := $(foreach room,$(ROOMS),$(call object,interp/$(room)/*.c)) \
           $(patsubst %.re,$(BUILD)/%.o,$(wildcard interp/scan/*.re)) $(BUILD)/gen/library.o
TABLES  := $(patsubst interp/data/%.csv,$(BUILD)/gen/%.inc,$(wildcard interp/data/*.csv))
LIBRARY := $(sort $(wildcard interp/*/*.lua stdlib/*/*.lua stdlib/*/sheets/*.lua))
TESTS   := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/*_test.c tests/outside/*_test.c))

.PHONY: all tools demo check bench docs fuzz install clean help test-programs
all: $(BUILD)/stringline $(BUILD)/libstringline.a $(BUILD)/gen/audited ## build the command and the library

# ---- set-up --------------------------------------------------------------------------------------------------------
tools: ## install the packages that building needs
	@tests/setup.sh

$(BUILD)/gen/%.inc: interp/data/%.csv interp/gen/csv.awk interp/gen/rows.awk
	@mkdir -p $(@D)
	$(Q)LC_ALL=C awk -f interp/gen/csv.awk -f interp/gen/rows.awk $< > $@.tmp && mv $@.tmp $@
$(BUILD)/gen/%.c: interp/scan/%.re
	@mkdir -p $(@D)
	$(call say,re2c)
	$(Q)re2c -W -Werror --no-debug-info -o $@ $<
$(BUILD)/interp/scan/%.o: $(BUILD)/gen/%.c
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(COMPILE) -c $< -o $@
$(BUILD)/%.o: %.c | $(TABLES)
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(COMPILE) -c $< -o $@

# The Lua part is compiled by the Lua that it will run in, and carried in the binary.
$(BUILD)/gen/embed: interp/gen/embed.c
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(COMPILE) $< -o $@ $(LIBS)
$(BUILD)/gen/library.c: $(LIBRARY) $(BUILD)/gen/embed
	$(call say,embed)
	$(Q)$(BUILD)/gen/embed $@ $(LIBRARY)
$(BUILD)/gen/library.o: $(BUILD)/gen/library.c
	$(call say,compile)
	$(Q)$(COMPILE) -c $< -o $@

$(BUILD)/libstringline.a: $(CALC)
	$(call say,archive)
	$(Q)rm -f $@ && ar rcs $@ $^
# What the Lua part defines is looked through before it is used.
$(BUILD)/gen/audit: $(BUILD)/interp/gen/audit.o $(HOST) $(BUILD)/libstringline.a
	$(call say,link)
	$(Q)$(CC) $(SAN) -o $@ $^ $(LIBS)
$(BUILD)/gen/audited: $(BUILD)/gen/audit
	$(call say,audit)
	$(Q)$< && touch $@
$(BUILD)/stringline: $(BUILD)/interp/main.o $(HOST) $(BUILD)/libstringline.a
	$(call say,link)
	$(Q)$(CC) $(SAN) -o $@ $^ $(LIBS)

# ---- tests ---------------------------------------------------------------------------------------------------------
$(BUILD)/tests/%: $(BUILD)/tests/%.o $(HOST) $(BUILD)/libstringline.a
	$(call say,link)
	$(Q)$(CC) $(SAN) -o $@ $^ $(LIBS) -lcmocka
# A fuzz target is its own main without SL_LIBFUZZER: then it replays files.
$(BUILD)/tests/fuzz/%_target: tests/fuzz/%.c $(HOST) $(BUILD)/libstringline.a
	@mkdir -p $(@D)
	$(call say,compile)
	$(Q)$(COMPILE) -DSL_LIBFUZZER -fsanitize=fuzzer -o $@ $< $(HOST) $(BUILD)/libstringline.a $(LIBS) -lcmocka
test-programs: $(TESTS)

demo: tools ## set up, build, and run the first whole job
	@$(MAKE) --no-print-directory all
	@tests/demo.sh $(BUILD)/stringline
check: tools ## set up, build with gcc, clang and sanitizers, run every test
	@tests/run.sh
bench: tools ## ratios: cold start, literals, one primitive through the binding
	@$(MAKE) --no-print-directory all $(BUILD)/tests/bench/bench
	@$(BUILD)/tests/bench/bench $(BUILD)/stringline
fuzz: tools ## run the fuzz targets for a minute each (clang)
	@tests/fuzz/run.sh

docs: all ## write the reference, the methods and the example's report anew
	$(BUILD)/stringline run examples/egg-farm/job.sline -o examples/egg-farm/report.txt
	$(BUILD)/stringline reference -o docs/reference.md
	LC_ALL=C awk -f interp/gen/csv.awk -f interp/gen/methods.awk interp/data/*.csv interp/calc/*.c > docs/methods.md.tmp && mv docs/methods.md.tmp docs/methods.md

install: all ## DESTDIR= PREFIX=
	install -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(PREFIX)/lib/pkgconfig $(DESTDIR)$(PREFIX)/include/stringline
	install -m 755 $(BUILD)/stringline $(DESTDIR)$(PREFIX)/bin/stringline
	install -m 644 $(BUILD)/libstringline.a $(DESTDIR)$(PREFIX)/lib/libstringline.a
	install -m 644 include/stringline/*.h include/stringline/*.def $(DESTDIR)$(PREFIX)/include/stringline/
	sed -e 's|@PREFIX@|$(PREFIX)|; s|@VERSION@|$(VERSION)|' interp/gen/stringline.pc.in > $(BUILD)/stringline.pc
	install -m 644 $(BUILD)/stringline.pc $(DESTDIR)$(PREFIX)/lib/pkgconfig/stringline.pc
clean: ## remove what was built
	rm -rf build
help: ## this list
	@sed -n 's/^\([a-z][a-z-]*\):[^#]*## /\1\t/p' $(MAKEFILE_LIST) | awk -F '\t' '{ printf "  make %-10s %s\n", $$1, $$2 }'

.SECONDARY:
-include $(shell find $(BUILD) -name '*.d' 2>/dev/null)
