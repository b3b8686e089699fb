/**
 * Readings as CSV (RFC 4180): our own form, and those of other loggers by naming their columns.
 * Text in, readings out, and back; knows neither store nor window.
 */
@NullMarked
package io.evenwarm.monitor.exchange;

import org.jspecify.annotations.NullMarked;
