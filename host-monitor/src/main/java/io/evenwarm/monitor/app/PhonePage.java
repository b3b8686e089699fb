package io.evenwarm.monitor.app;

import io.evenwarm.clock.SystemClock;
import io.evenwarm.link.Identity;
import io.evenwarm.link.ServingTls;
import io.evenwarm.monitor.web.NoticeAnswers;
import io.evenwarm.monitor.web.PageAccess;
import io.evenwarm.monitor.web.PageAlarms;
import io.evenwarm.monitor.web.PageServer;
import java.io.IOException;
import java.net.InetSocketAddress;
import java.nio.file.Path;
import javax.net.ssl.SSLContext;

/** From settings to the served page. */
final class PhonePage {

    private static final String FOLDER = "page";
    private static final String IDENTITY_FILE = "page-identity.pem";

    private PhonePage() {}

    static PageAccess access(MonitorSettings settings) {
        return new PageAccess(settings.dataFolder().resolve(FOLDER));
    }

    /**
     * Serves the page of a station.
     *
     * @throws IOException when it can't be; the message says why
     */
    static PageServer start(
            MonitorSettings settings,
            PageSettings page,
            Station station,
            PageAlarms alarms,
            NoticeAnswers answers)
            throws IOException {
        PageServer.Content content =
                new PageServer.Content(
                        station.live(),
                        station.history(),
                        alarms,
                        answers,
                        access(settings),
                        SystemClock.wall()::now,
                        settings.unit(),
                        settings.zone());
        return PageServer.start(
                content, new InetSocketAddress(page.host(), page.port()), tls(settings, page));
    }

    private static SSLContext tls(MonitorSettings settings, PageSettings page) throws IOException {
        if (page.certificate().isPresent()) {
            PageSettings.CertificateFiles files = page.certificate().get();
            return ServingTls.of(files.certificates(), files.key());
        }
        Path own = settings.dataFolder().resolve(IDENTITY_FILE);
        return ServingTls.of(Identity.loadOrCreate(own, "evenwarm page"));
    }
}
