# SPDX-License-Identifier: GPL-3.0-or-later
# For tests/mutants.sh, in the folder where it builds: one test program or the command from the copy
# in tree/, without libtool, so that a mutant costs one compilation and one link.

VPATH = tree
CC = cc
CFLAGS = -O1
# The modules that build-aux/packages.sh names.
modules := $(shell sed -n '/^[a-z]/s/.* module://p' tree/build-aux/packages.sh)
flags := -ffp-contract=off -D_GNU_SOURCE -DTCR_WITH_DRAW -Itree/include -Itree/lib -Itree/tests \
	$(shell pkg-config --cflags $(modules))
libs := $(shell pkg-config --libs $(modules)) -lgif -lglpk -lpthread -lm

objects = $(patsubst tree/%.c,%.o,$(foreach folder,$(1),$(wildcard tree/$(folder)/*.c)))
core := $(call objects,$(addprefix lib/,num geom model line rod plan))
file := $(call objects,lib/file)
draw := $(call objects,lib/draw)
cli := $(call objects,cli)
support := $(call objects,tests/support)

link = $(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(libs)

tipcrest: $(cli) $(file) $(draw) $(core)
	$(link)
tests/draw/%: tests/draw/%.o $(support) $(draw) $(core)
	$(link)
tests/file/%: tests/file/%.o $(support) $(file) $(core)
	$(link)
tests/cli/%: tests/cli/%.o $(support) $(filter-out cli/main.o,$(cli)) $(file) $(draw) $(core)
	$(link)
tests/%: tests/%.o $(support) $(core)
	$(link)
tests/faults/%.so: tests/faults/%.c
	@mkdir -p $(@D)
	$(CC) $(flags) -fPIC -shared -o $@ $< -ldl
%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(flags) $(CFLAGS) -MMD -MP -c -o $@ $<

.SECONDARY:
-include $(shell find . -path ./tree -prune -o -name '*.d' -print)
