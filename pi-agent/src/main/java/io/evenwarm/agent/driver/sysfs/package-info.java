/**
 * Linux's own sensor and output files: 1-Wire, hwmon, IIO, LED-class lines. The only place that
 * knows their paths and formats; every root folder is a parameter.
 */
@NullMarked
package io.evenwarm.agent.driver.sysfs;

import org.jspecify.annotations.NullMarked;
