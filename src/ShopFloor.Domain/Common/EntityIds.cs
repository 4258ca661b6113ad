namespace ShopFloor.Domain.Common;

// One line an entity: see IEntityId for what they are.

public readonly record struct CustomerId(Guid Value) : IEntityId<CustomerId>
{
    public static CustomerId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct CarId(Guid Value) : IEntityId<CarId>
{
    public static CarId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct QuoteId(Guid Value) : IEntityId<QuoteId>
{
    public static QuoteId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct JobId(Guid Value) : IEntityId<JobId>
{
    public static JobId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct OperationId(Guid Value) : IEntityId<OperationId>
{
    public static OperationId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct TimeEntryId(Guid Value) : IEntityId<TimeEntryId>
{
    public static TimeEntryId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct DeviceId(Guid Value) : IEntityId<DeviceId>
{
    public static DeviceId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct EnrolmentCodeId(Guid Value) : IEntityId<EnrolmentCodeId>
{
    public static EnrolmentCodeId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct ShopTimeId(Guid Value) : IEntityId<ShopTimeId>
{
    public static ShopTimeId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct CustomerPartId(Guid Value) : IEntityId<CustomerPartId>
{
    public static CustomerPartId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct CarReturnId(Guid Value) : IEntityId<CarReturnId>
{
    public static CarReturnId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct DropOffId(Guid Value) : IEntityId<DropOffId>
{
    public static DropOffId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct HandOverId(Guid Value) : IEntityId<HandOverId>
{
    public static HandOverId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct GoodsOutId(Guid Value) : IEntityId<GoodsOutId>
{
    public static GoodsOutId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct PhotoId(Guid Value) : IEntityId<PhotoId>
{
    public static PhotoId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct InspectionLineId(Guid Value) : IEntityId<InspectionLineId>
{
    public static InspectionLineId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct ReadingId(Guid Value) : IEntityId<ReadingId>
{
    public static ReadingId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct SignOffId(Guid Value) : IEntityId<SignOffId>
{
    public static SignOffId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct LedgerEntryId(Guid Value) : IEntityId<LedgerEntryId>
{
    public static LedgerEntryId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct InvoiceId(Guid Value) : IEntityId<InvoiceId>
{
    public static InvoiceId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct ProgressLinkId(Guid Value) : IEntityId<ProgressLinkId>
{
    public static ProgressLinkId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct DecisionLinkId(Guid Value) : IEntityId<DecisionLinkId>
{
    public static DecisionLinkId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct CustomerWordId(Guid Value) : IEntityId<CustomerWordId>
{
    public static CustomerWordId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct CustomerNoteId(Guid Value) : IEntityId<CustomerNoteId>
{
    public static CustomerNoteId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct UploadLinkId(Guid Value) : IEntityId<UploadLinkId>
{
    public static UploadLinkId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct PriceBookId(Guid Value) : IEntityId<PriceBookId>
{
    public static PriceBookId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct PriceBookDraftId(Guid Value) : IEntityId<PriceBookDraftId>
{
    public static PriceBookDraftId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct RouteTemplateId(Guid Value) : IEntityId<RouteTemplateId>
{
    public static RouteTemplateId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct RuleSetId(Guid Value) : IEntityId<RuleSetId>
{
    public static RuleSetId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct PersonId(Guid Value) : IEntityId<PersonId>
{
    public static PersonId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct ApiKeyId(Guid Value) : IEntityId<ApiKeyId>
{
    public static ApiKeyId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct ShopId(Guid Value) : IEntityId<ShopId>
{
    public static ShopId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct AgreedChargeId(Guid Value) : IEntityId<AgreedChargeId>
{
    public static AgreedChargeId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct RuleSetVersionId(Guid Value) : IEntityId<RuleSetVersionId>
{
    public static RuleSetVersionId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct RouteEditionId(Guid Value) : IEntityId<RouteEditionId>
{
    public static RouteEditionId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct ChangeOrderId(Guid Value) : IEntityId<ChangeOrderId>
{
    public static ChangeOrderId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct JobCostId(Guid Value) : IEntityId<JobCostId>
{
    public static JobCostId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct PartOutId(Guid Value) : IEntityId<PartOutId>
{
    public static PartOutId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct HotWorkPermitId(Guid Value) : IEntityId<HotWorkPermitId>
{
    public static HotWorkPermitId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct DayCloseId(Guid Value) : IEntityId<DayCloseId>
{
    public static DayCloseId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct JobFigureId(Guid Value) : IEntityId<JobFigureId>
{
    public static JobFigureId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct BenderDieId(Guid Value) : IEntityId<BenderDieId>
{
    public static BenderDieId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct RoutePictureId(Guid Value) : IEntityId<RoutePictureId>
{
    public static RoutePictureId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct InstrumentId(Guid Value) : IEntityId<InstrumentId>
{
    public static InstrumentId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct NonconformanceId(Guid Value) : IEntityId<NonconformanceId>
{
    public static NonconformanceId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct JobMaterialId(Guid Value) : IEntityId<JobMaterialId>
{
    public static JobMaterialId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct WeldedJointId(Guid Value) : IEntityId<WeldedJointId>
{
    public static WeldedJointId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct InspectionPlanVersionId(Guid Value) : IEntityId<InspectionPlanVersionId>
{
    public static InspectionPlanVersionId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct OutboxMessageId(Guid Value) : IEntityId<OutboxMessageId>
{
    public static OutboxMessageId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct WelderQualificationId(Guid Value) : IEntityId<WelderQualificationId>
{
    public static WelderQualificationId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct WitnessNoticeId(Guid Value) : IEntityId<WitnessNoticeId>
{
    public static WitnessNoticeId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct MailSettingsId(Guid Value) : IEntityId<MailSettingsId>
{
    public static MailSettingsId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct PlanRunId(Guid Value) : IEntityId<PlanRunId>
{
    public static PlanRunId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct CalendarFeedId(Guid Value) : IEntityId<CalendarFeedId>
{
    public static CalendarFeedId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct AppointmentId(Guid Value) : IEntityId<AppointmentId>
{
    public static AppointmentId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct ReminderId(Guid Value) : IEntityId<ReminderId>
{
    public static ReminderId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct StockItemId(Guid Value) : IEntityId<StockItemId>
{
    public static StockItemId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct SupplierId(Guid Value) : IEntityId<SupplierId>
{
    public static SupplierId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct StockLotId(Guid Value) : IEntityId<StockLotId>
{
    public static StockLotId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct StockMovementId(Guid Value) : IEntityId<StockMovementId>
{
    public static StockMovementId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct JobStockId(Guid Value) : IEntityId<JobStockId>
{
    public static JobStockId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct StockOrderId(Guid Value) : IEntityId<StockOrderId>
{
    public static StockOrderId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct SawPlanId(Guid Value) : IEntityId<SawPlanId>
{
    public static SawPlanId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct ForecastId(Guid Value) : IEntityId<ForecastId>
{
    public static ForecastId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct WeekMailId(Guid Value) : IEntityId<WeekMailId>
{
    public static WeekMailId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct SessionId(Guid Value) : IEntityId<SessionId>
{
    public static SessionId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct RecoveryCodeId(Guid Value) : IEntityId<RecoveryCodeId>
{
    public static RecoveryCodeId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct PasswordLinkId(Guid Value) : IEntityId<PasswordLinkId>
{
    public static PasswordLinkId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct WebhookId(Guid Value) : IEntityId<WebhookId>
{
    public static WebhookId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}

public readonly record struct WebhookDeliveryId(Guid Value) : IEntityId<WebhookDeliveryId>
{
    public static WebhookDeliveryId From(Guid value) => new(value);

    public override string ToString() => Value.ToString();
}
