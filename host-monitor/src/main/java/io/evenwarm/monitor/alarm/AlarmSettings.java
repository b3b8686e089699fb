package io.evenwarm.monitor.alarm;

import io.evenwarm.monitor.history.CabinetKey;
import java.util.Map;

/**
 * Everything that can be set about alarms.
 *
 * @param defaults the limits of cabinets that have none of their own
 * @param cabinets the others
 */
public record AlarmSettings(
        AlarmTimes times, CabinetLimits defaults, Map<CabinetKey, CabinetLimits> cabinets) {

    public static final AlarmSettings DEFAULT =
            new AlarmSettings(AlarmTimes.DEFAULT, CabinetLimits.DEFAULT, Map.of());

    public AlarmSettings {
        cabinets = Map.copyOf(cabinets);
    }

    CabinetLimits limits(CabinetKey key) {
        return cabinets.getOrDefault(key, defaults);
    }
}
