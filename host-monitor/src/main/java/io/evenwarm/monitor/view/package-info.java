/**
 * The window: JavaFX only, with one throttled door to its thread. Imports neither store nor link.
 */
@NullMarked
package io.evenwarm.monitor.view;

import org.jspecify.annotations.NullMarked;
