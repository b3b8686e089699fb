package io.evenwarm.monitor.exchange;

import io.evenwarm.message.ProbeName;
import io.evenwarm.monitor.history.CabinetKey;
import java.nio.charset.Charset;
import java.time.ZoneId;
import java.util.Map;

/**
 * How another logger's CSV is to be read.
 *
 * @param key the cabinet that the readings are of
 * @param timeColumn name of the column with the time
 * @param timeForm pattern of the times; empty for ISO 8601
 * @param zone of times that don't say theirs
 * @param probes which column holds which probe's values
 * @param unit of all values
 * @param separator between columns
 * @param decimalComma whether numbers have a comma where others have a point
 * @param charset of the file
 */
public record LoggerForm(
        CabinetKey key,
        String timeColumn,
        String timeForm,
        ZoneId zone,
        Map<String, ProbeName> probes,
        Unit unit,
        char separator,
        boolean decimalComma,
        Charset charset) {

    /** Units that loggers write. */
    public enum Unit {
        CELSIUS,
        FAHRENHEIT,
        PERCENT_RELATIVE_HUMIDITY
    }

    public LoggerForm {
        probes = Map.copyOf(probes);
    }
}
