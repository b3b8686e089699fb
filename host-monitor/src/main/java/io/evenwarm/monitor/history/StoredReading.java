package io.evenwarm.monitor.history;

import io.evenwarm.message.ProbeName;
import io.evenwarm.message.ProbePlace;
import io.evenwarm.message.Reading;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * One reading of one probe, as it travels into and out of the store.
 *
 * @param unit of the value; empty for a probe that never had one
 * @param epochMillis wall time, milliseconds since the epoch
 * @param value empty for a bad reading
 * @param doubt why it is bad or uncertain; empty for a good one
 */
public record StoredReading(
        CabinetKey key,
        ProbeName probe,
        ProbePlace place,
        Optional<ProbeCurve.Unit> unit,
        long epochMillis,
        OptionalDouble value,
        Optional<Reading.Doubt> doubt) {

    public StoredReading {
        if (value.isPresent() && unit.isEmpty()) {
            throw new IllegalArgumentException("a value needs a unit");
        }
    }
}
