package io.evenwarm.monitor.notice.channel;

import io.evenwarm.monitor.notice.Channel;
import io.evenwarm.monitor.notice.Delivery;
import io.evenwarm.monitor.notice.Notice;
import io.evenwarm.monitor.notice.NoticePriority;
import io.evenwarm.monitor.notice.PlainLine;
import io.evenwarm.monitor.notice.Recipient;
import jakarta.mail.AuthenticationFailedException;
import jakarta.mail.Message;
import jakarta.mail.MessagingException;
import jakarta.mail.Session;
import jakarta.mail.Transport;
import jakarta.mail.internet.AddressException;
import jakarta.mail.internet.InternetAddress;
import jakarta.mail.internet.MimeMessage;
import java.net.SocketTimeoutException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Date;
import java.util.Deque;
import java.util.Optional;
import java.util.Properties;
import java.util.UUID;
import javax.net.ssl.SSLException;
import org.eclipse.angus.mail.smtp.SMTPAddressFailedException;
import org.eclipse.angus.mail.smtp.SMTPSendFailedException;
import org.eclipse.angus.mail.smtp.SMTPSenderFailedException;
import org.jspecify.annotations.Nullable;

/**
 * Hands notices in at a mail server. While one follows the other they share a connection: a hundred
 * logins within seconds cost a hundred handshakes, and many a server locks out who does that.
 */
public final class MailChannel implements Channel {

    /** A wrong password or certificate is mended by a person, and servers lock out who insists. */
    private static final Duration SETTINGS_PAUSE = Duration.ofMinutes(5);

    /** RFC 5321 s.4.2.1: from here on "Permanent Negative Completion". */
    private static final int PERMANENT = 500;

    /** RFC 5321 s.4.2.1: from here on "Transient Negative Completion". */
    private static final int TRANSIENT = 400;

    private static final System.Logger LOG = System.getLogger(MailChannel.class.getName());
    private static final int WORDS_MAX = 200;

    private static final int AT_ONCE = 4;

    private final String name;
    private final MailServer server;
    private final Session session;

    /** Connections that were left open for the next notice. Guarded by this, as the next one. */
    private final Deque<Transport> kept = new ArrayDeque<>();

    private boolean isClosed;

    public MailChannel(String name, MailServer server) {
        this.name = name;
        this.server = server;
        session = Session.getInstance(properties(server));
    }

    private static Properties properties(MailServer server) {
        String limitMillis = Long.toString(server.limit().toMillis());
        boolean isTls = server.security() == MailServer.Security.TLS;
        Properties properties = new Properties();
        properties.put("mail.transport.protocol", "smtp");
        properties.put("mail.smtp.host", server.host());
        properties.put("mail.smtp.port", Integer.toString(server.port()));
        properties.put("mail.smtp.connectiontimeout", limitMillis);
        properties.put("mail.smtp.timeout", limitMillis);
        properties.put("mail.smtp.writetimeout", limitMillis);
        properties.put("mail.smtp.ssl.enable", Boolean.toString(isTls));
        properties.put("mail.smtp.starttls.enable", Boolean.toString(!isTls));
        // Without it a server, or who stands before it, could leave the password in the clear.
        properties.put("mail.smtp.starttls.required", Boolean.toString(!isTls));
        properties.put("mail.smtp.ssl.checkserveridentity", "true");
        properties.put("mail.smtp.ssl.socketFactory", server.roots().context().getSocketFactory());
        properties.put("mail.smtp.auth", Boolean.toString(server.login().isPresent()));
        // A person's address that is refused must not look like a mail that went out.
        properties.put("mail.smtp.sendpartial", "false");
        return properties;
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public int atOnce() {
        return AT_ONCE;
    }

    @Override
    public Delivery deliver(Notice notice, Recipient recipient) {
        if (recipient.mail().isEmpty()) {
            return new Delivery.Refused(recipient.person() + " has no mail address");
        }
        MimeMessage message;
        try {
            message = message(notice, recipient, recipient.mail().get());
        } catch (MessagingException e) {
            return new Delivery.Refused("no mail can be made of it: " + words(e));
        }
        Optional<Transport> open = takeKept();
        if (open.isPresent()) {
            try {
                return handIn(open.get(), message);
            } catch (MessagingException e) {
                Delivery failed = failed(e);
                boolean isForGood = failed.fold(taken -> true, again -> false, refused -> true);
                if (isForGood || isTimeout(e)) {
                    return failed;
                }
                // Servers end what stood idle, and take so many by one connection: try anew.
            }
        }
        try {
            return handIn(connect(), message);
        } catch (AuthenticationFailedException e) {
            return new Delivery.TryAgain(
                    "the mail server refuses user or password (" + words(e) + ")", SETTINGS_PAUSE);
        } catch (MessagingException e) {
            return failed(e);
        }
    }

    private Transport connect() throws MessagingException {
        Transport transport = session.getTransport();
        try {
            if (server.login().isPresent()) {
                MailServer.Login login = server.login().get();
                transport.connect(login.user(), login.password().reveal());
            } else {
                transport.connect();
            }
            return transport;
        } catch (MessagingException e) {
            end(transport);
            throw e;
        }
    }

    /** Keeps the connection when the mail was taken, and ends it when not. */
    private Delivery handIn(Transport transport, MimeMessage message) throws MessagingException {
        boolean isTaken = false;
        try {
            transport.sendMessage(message, message.getAllRecipients());
            isTaken = true;
            return new Delivery.Delivered("the mail server took it");
        } finally {
            if (!isTaken || !keep(transport)) {
                end(transport);
            }
        }
    }

    private synchronized Optional<Transport> takeKept() {
        return Optional.ofNullable(kept.pollLast());
    }

    private synchronized boolean keep(Transport transport) {
        return !isClosed && kept.add(transport);
    }

    private static void end(Transport transport) {
        try {
            transport.close();
        } catch (MessagingException e) {
            // The mail was taken or not before this: how the goodbye went changes nothing.
            LOG.log(System.Logger.Level.DEBUG, "the mail server's connection ended badly", e);
        }
    }

    @Override
    public void rest() {
        for (Optional<Transport> open = takeKept(); open.isPresent(); open = takeKept()) {
            end(open.get());
        }
    }

    private static boolean isTimeout(Exception failure) {
        for (Exception e = failure; e != null; e = next(e)) {
            if (e instanceof SocketTimeoutException) {
                return true;
            }
        }
        return false;
    }

    private MimeMessage message(Notice notice, Recipient recipient, String address)
            throws MessagingException {
        MimeMessage message = new NoticeMessage(session, messageId(notice.id(), recipient));
        message.setFrom(new InternetAddress(server.from(), true));
        message.setRecipient(Message.RecipientType.TO, new InternetAddress(address, true));
        message.setSubject(notice.subject(), StandardCharsets.UTF_8.name());
        message.setText(
                notice.body() + recipient.answerAt().map(MailChannel::answer).orElse(""),
                StandardCharsets.UTF_8.name());
        message.setSentDate(Date.from(notice.at()));
        if (notice.revision() > 1) {
            // RFC 5322 s.3.6.4: every follow-up is an answer to the first, which answers nothing,
            // so that its references are that one alone.
            String first = messageId(notice.firstId(), recipient);
            message.setHeader("In-Reply-To", first);
            message.setHeader("References", first);
        }
        // RFC 3834 s.5: no holiday note is to be sent back.
        message.setHeader("Auto-Submitted", "auto-generated");
        if (notice.priority() == NoticePriority.HIGH && !notice.kind().isEnd()) {
            // RFC 2156 s.2.2.
            message.setHeader("Importance", "high");
        }
        message.saveChanges();
        return message;
    }

    private static String answer(String link) {
        return "\nAcknowledge: open this and press the button there; opening it does nothing.\n"
                + link
                + "\nIt is for this event alone, ends a day after it, and is for you: whoever has it can"
                + " acknowledge.\n";
    }

    /**
     * RFC 5322 s.3.6.4: "pertains to exactly one version of a particular message", so each person
     * has their own; the same notice sent to them twice is the same mail.
     */
    private String messageId(UUID notice, Recipient recipient) {
        String domain = server.from().substring(server.from().lastIndexOf('@') + 1);
        return "<" + notice + "." + recipient.tag() + "@" + domain + ">";
    }

    /** Judges by the server's own code where there is one, whichever step it was. */
    private static Delivery failed(MessagingException failure) {
        Optional<Integer> code = Optional.empty();
        for (Exception e = failure; e != null; e = next(e)) {
            if (e instanceof SMTPAddressFailedException refused) {
                code = Optional.of(refused.getReturnCode());
            } else if (e instanceof SMTPSendFailedException refused) {
                code = Optional.of(refused.getReturnCode());
            } else if (e instanceof SMTPSenderFailedException refused) {
                code = Optional.of(refused.getReturnCode());
            } else if (e instanceof SSLException) {
                return new Delivery.TryAgain(
                        "no private way to the mail server (" + words(e) + ")", SETTINGS_PAUSE);
            }
        }
        if (code.isPresent() && code.get() >= PERMANENT) {
            return new Delivery.Refused("the mail server refuses it (" + words(failure) + ")");
        }
        return new Delivery.TryAgain(
                code.isPresent() && code.get() >= TRANSIENT
                        ? "the mail server says not now (" + words(failure) + ")"
                        : "the mail server can't be reached (" + words(failure) + ")",
                Duration.ZERO);
    }

    private static @Nullable Exception next(Exception e) {
        if (e instanceof MessagingException mail && mail.getNextException() != null) {
            return mail.getNextException();
        }
        return e.getCause() instanceof Exception cause ? cause : null;
    }

    /** The innermost words: those of the server or of the network, not those of the library. */
    private static String words(Exception failure) {
        Exception innermost = failure;
        for (Exception e = failure; e != null; e = next(e)) {
            innermost = e;
        }
        String message = innermost.getMessage();
        return PlainLine.of(
                message == null || message.isBlank()
                        ? innermost.getClass().getSimpleName()
                        : message,
                WORDS_MAX);
    }

    /**
     * Whether that is an address that mail can go to.
     *
     * @throws IllegalArgumentException when it is none
     */
    public static String requireAddress(String text) {
        try {
            InternetAddress address = new InternetAddress(text, true);
            address.validate();
            if (!text.equals(address.getAddress()) || text.indexOf('@') < 1) {
                throw new IllegalArgumentException(text);
            }
            return text;
        } catch (AddressException e) {
            throw new IllegalArgumentException(text, e);
        }
    }

    @Override
    public void close() {
        synchronized (this) {
            isClosed = true;
        }
        rest();
    }

    /** Keeps the id that it is given; the library would make a new one at each saving. */
    private static final class NoticeMessage extends MimeMessage {

        private final String messageId;

        NoticeMessage(Session session, String messageId) {
            super(session);
            this.messageId = messageId;
        }

        @Override
        protected void updateMessageID() throws MessagingException {
            setHeader("Message-ID", messageId);
        }
    }
}
