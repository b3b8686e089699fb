/** Curves to pictures, the only user of JFreeChart. Imports neither store nor link. */
@NullMarked
package io.evenwarm.monitor.chart;

import org.jspecify.annotations.NullMarked;
