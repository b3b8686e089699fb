/** What tests of several packages share: plans, fake probes and lines, traces. */
@NullMarked
package io.evenwarm.agent.testing;

import org.jspecify.annotations.NullMarked;
