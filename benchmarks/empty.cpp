// SPDX-License-Identifier: GPL-3.0-or-later
// Does nothing: what any C++ program pays to start (P11).
int main() { return 0; }
