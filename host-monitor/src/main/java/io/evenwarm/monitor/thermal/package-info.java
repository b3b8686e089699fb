/**
 * The heat of a cabinet: a model of it fitted from its own history, how well it is known, and what
 * follows from it for the eggs.
 *
 * <p>Knows no clock, thread, file, log, window or SQL: it is given what was measured, minute by
 * minute, as a {@link io.evenwarm.monitor.thermal.ThermalRecord}. {@link
 * io.evenwarm.monitor.thermal.ThermalFit} is the model with its uncertainties; what the data can't
 * tell is a {@link io.evenwarm.monitor.thermal.Figure.NotKnown}, never a number. {@code
 * docs/thermal.md} has the equations and their sources. All results are immutable.
 */
@NullMarked
package io.evenwarm.monitor.thermal;

import org.jspecify.annotations.NullMarked;
