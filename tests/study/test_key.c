/* SPDX-License-Identifier: GPL-3.0-or-later */
int main(void) { return 0; }
