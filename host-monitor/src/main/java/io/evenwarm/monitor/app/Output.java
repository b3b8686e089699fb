package io.evenwarm.monitor.app;

import java.io.PrintStream;

/**
 * Where a command's words go.
 *
 * @param out what was asked for
 * @param err notes, faults, logs
 */
record Output(PrintStream out, PrintStream err) {}
