package io.evenwarm.monitor.history;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import java.util.Optional;

/** Which readings are meant. Empty: those of all. */
public record ReadingFilter(
        Optional<AgentName> agent, Optional<CabinetName> cabinet, TimeSpan span) {}
