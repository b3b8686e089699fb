package io.evenwarm.monitor.view;

import io.evenwarm.message.Limits;
import io.evenwarm.monitor.chart.ChartPicture;
import io.evenwarm.monitor.chart.ChartSpec;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.AgentState;
import io.evenwarm.quantity.Temperature;
import io.evenwarm.quantity.TemperatureUnit;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * All of the window but its curves and log, in words.
 *
 * @param cards every cabinet
 * @param detail the chosen cabinet; empty while there is none
 * @param agents how the monitor stands with each agent
 * @param summary how many cabinets stand how
 * @param clock the time of day and its zone
 */
record WindowModel(
        List<CabinetCard> cards,
        Optional<Detail> detail,
        List<AgentState> agents,
        String summary,
        String clock,
        TemperatureUnit unit) {

    WindowModel {
        cards = List.copyOf(cards);
        agents = List.copyOf(agents);
    }

    /**
     * The chosen cabinet.
     *
     * @param agentWords how the monitor stands with its agent
     * @param commands what may be asked of it; empty while it can't be asked
     */
    record Detail(CabinetCard card, String agentWords, Optional<Commands> commands) {}

    /**
     * What a person may ask of a cabinet.
     *
     * @param mayReset whether its cut-off has tripped
     */
    record Commands(Temperature setPoint, Limits limits, boolean mayReset) {}

    /**
     * A finished chart.
     *
     * @param now the newest moment there is, by the cabinet's own clock
     * @param note what should be known about it; empty when there is nothing
     */
    record ChartUpdate(
            CabinetKey key,
            ChartPicture picture,
            ChartSpec spec,
            String caption,
            Instant now,
            Optional<String> note) {}

    /** The chosen cabinet's log. */
    record LogUpdate(CabinetKey key, String heading, List<LogLine> lines, String empty) {

        LogUpdate {
            lines = List.copyOf(lines);
        }
    }
}
