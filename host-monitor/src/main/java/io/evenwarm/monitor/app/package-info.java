/** Composition root: settings, commands, start and stop order. */
@NullMarked
package io.evenwarm.monitor.app;

import org.jspecify.annotations.NullMarked;
