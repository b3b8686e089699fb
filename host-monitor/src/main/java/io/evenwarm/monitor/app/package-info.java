/**
 * Composition root: settings, commands, start and stop order.
 *
 * <p>The only package that names concrete links, store and window together, that touches standard
 * streams, and that ends the process.
 */
@NullMarked
package io.evenwarm.monitor.app;

import org.jspecify.annotations.NullMarked;
