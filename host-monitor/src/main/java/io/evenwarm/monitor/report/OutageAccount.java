package io.evenwarm.monitor.report;

import io.evenwarm.message.Limits;
import io.evenwarm.monitor.alert.LoggedChange;
import io.evenwarm.monitor.history.CabinetCurves;
import io.evenwarm.monitor.notice.NoticeSent;
import io.evenwarm.monitor.outage.HumidityAround;
import io.evenwarm.monitor.outage.OutageReview;
import io.evenwarm.monitor.outage.Recovery;
import java.util.List;
import java.util.Optional;

/**
 * What an outage came to, with all that was asked of history for it: what its text, its JSON, its
 * page and the window show.
 *
 * @param limits of the cabinet, the newest of the time around it
 * @param eggsColdLimitCelsius the settings' cold limit for eggs, °C
 * @param humidity one for each hygrometer
 * @param measured what was read in the hours around it, to draw
 * @param changes of alarms of the cabinet and of its agent, from the begin to 6 h after the end
 * @param notices about either that were written in that time, one for each person and channel
 */
public record OutageAccount(
        OutageReview review,
        Optional<Limits> limits,
        double eggsColdLimitCelsius,
        Recovery recovery,
        List<HumidityAround> humidity,
        CabinetCurves measured,
        List<LoggedChange> changes,
        List<NoticeSent> notices) {

    public OutageAccount {
        humidity = List.copyOf(humidity);
        changes = List.copyOf(changes);
        notices = List.copyOf(notices);
    }
}
